"""Addresses of this room."""

from django.urls import path

from shop.plans import views

app_name = "plans"
urlpatterns = [
    path("", views.strip, name="strip"),
    path("run/", views.run, name="run"),
    path("run/<int:pk>/", views.job, name="job"),
    path("run/<int:pk>/cancel/", views.cancel, name="cancel"),
]
