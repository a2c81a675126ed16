from django.apps import AppConfig


class OrdersConfig(AppConfig):
    name = "shop.orders"
    verbose_name = "orders"
