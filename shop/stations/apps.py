from django.apps import AppConfig


class StationsConfig(AppConfig):
    name = "shop.stations"
    verbose_name = "workshop"
