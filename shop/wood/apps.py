from django.apps import AppConfig


class WoodConfig(AppConfig):
    name = "shop.wood"
