"""Addresses of the wood."""

from django.urls import path

from shop.wood import views

app_name = "wood"
urlpatterns = [path("", views.wood, name="wood"), path("reckon/", views.reckon, name="reckon")]
