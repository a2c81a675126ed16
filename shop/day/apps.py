from django.apps import AppConfig


class DayConfig(AppConfig):
    name = "shop.day"
    verbose_name = "day"
