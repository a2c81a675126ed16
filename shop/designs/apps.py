from django.apps import AppConfig


class DesignsConfig(AppConfig):
    name = "shop.designs"
    verbose_name = "designs"
