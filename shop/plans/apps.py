from django.apps import AppConfig


class PlansConfig(AppConfig):
    name = "shop.plans"
    verbose_name = "plans"
