"""Addresses of orders and fairs."""

from django.urls import path

from shop.orders.views import fairs, importing, looking, taking

app_name = "orders"
urlpatterns = [
    path("", looking.orders, name="list"),
    path("new/", taking.new, name="new"),
    path("fairs/", fairs.fairs, name="fairs"),
    path("import/", importing.upload, name="import"),
    path("import/<uuid:pk>/", importing.check, name="check"),
    path("import/<uuid:pk>/bring-in/", importing.bring, name="bring_in"),
    path("lines/<int:pk>/artwork/", looking.artwork, name="artwork"),
    path("<int:pk>/cancel/", looking.cancel, name="cancel"),
    path("<int:pk>/hand-over/", looking.hand_over, name="hand_over"),
    path("<int:pk>/reopen/", looking.reopen, name="reopen"),
    path("<int:pk>/", looking.order, name="order"),
]
