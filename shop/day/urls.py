"""Addresses of this room."""

from django.urls import path

import shop.dates  # noqa: F401  the day in an address
from shop.day.views import curing, day, detail, router, verbs

app_name = "day"
urlpatterns = [
    path("", day.today, name="today"),
    path("day/", day.find, name="find"),
    path("day/<day:day>/", day.day, name="day"),
    path("router/", router.router, name="router"),
    path("router/<day:day>/", router.router, name="router"),
    path("curing/", curing.curing, name="curing"),
    path("curing/slipping/", curing.slipping, name="slipping"),
    path("detail/", detail.detail, name="detail"),
    path("steps/<int:pk>/begin/", verbs.begin, name="begin"),
    path("steps/<int:pk>/done/", verbs.done, name="done"),
    path("steps/<int:pk>/undo/", verbs.undo, name="undo"),
    path("pieces/<int:pk>/spoil/", verbs.spoil, name="spoil"),
]
