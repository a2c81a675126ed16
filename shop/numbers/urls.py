"""Addresses of the numbers."""

from django.urls import path

from shop.numbers import views

app_name = "numbers"
urlpatterns = [
    path("", views.numbers, name="numbers"),
    path("factor/", views.factor, name="factor"),
    path("fairs/<int:pk>/", views.fair, name="fair"),
    path("fairs/<int:pk>/sold/", views.sold, name="sold"),
]
