"""Addresses of this room."""

app_name = "orders"
urlpatterns = []
