from django.apps import AppConfig


class FloorConfig(AppConfig):
    name = "shop.floor"
    verbose_name = "floor"
