"""Addresses of this room."""

app_name = "plans"
urlpatterns = []
