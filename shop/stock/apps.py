from django.apps import AppConfig


class StockConfig(AppConfig):
    name = "shop.stock"
    verbose_name = "wood"
