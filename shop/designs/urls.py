"""Addresses of designs."""

from django.urls import path

from shop.designs import views

app_name = "designs"
urlpatterns = [
    path("", views.designs, name="list"),
    path("new/", views.new, name="new"),
    path("<int:pk>/", views.design, name="design"),
    path("<int:pk>/change/", views.change, name="change"),
    path("<int:pk>/work/", views.work, name="work"),
    path("<int:pk>/outline/", views.outline, name="outline"),
    path("<int:pk>/outline/keep/", views.keep_outline, name="keep_outline"),
    path("<int:pk>/ease/", views.ease, name="ease"),
]
