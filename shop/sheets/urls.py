"""Addresses of this room."""

app_name = "sheets"
urlpatterns = []
