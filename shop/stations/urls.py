"""Addresses of this room."""

app_name = "stations"
urlpatterns = []
