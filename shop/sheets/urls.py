"""Addresses of this room."""

from django.urls import path

import shop.dates  # noqa: F401  the day in an address
from shop.sheets import views

app_name = "sheets"
urlpatterns = [
    path("day/<day:day>.pdf", views.day, name="day"),
    path("router/<day:day>.pdf", views.router, name="router"),
]
