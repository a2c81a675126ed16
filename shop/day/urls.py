"""Addresses of this room."""

app_name = "day"
urlpatterns = []
