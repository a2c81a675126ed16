"""Addresses of the workshop."""

from django.urls import path

from shop.stations import views

app_name = "stations"
urlpatterns = [
    path("", views.workshop, name="workshop"),
    path("hours/<int:pk>/", views.hours, name="hours"),
    path("hours/<int:pk>/days-off/", views.days_off, name="days_off"),
    path("days-off/<int:pk>/back/", views.day_off_back, name="day_off_back"),
    path("stations/<int:pk>/down/", views.down, name="down"),
    path("minutes/", views.minutes, name="minutes"),
    path("figures/", views.figures, name="figures"),
]
