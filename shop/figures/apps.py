from django.apps import AppConfig


class FiguresConfig(AppConfig):
    name = "shop.figures"
    verbose_name = "figures of the trade"
