from django.apps import AppConfig


class DemoConfig(AppConfig):
    name = "shop.demo"
    verbose_name = "demo"
