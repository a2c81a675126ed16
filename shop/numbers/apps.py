from django.apps import AppConfig


class NumbersConfig(AppConfig):
    name = "shop.numbers"
