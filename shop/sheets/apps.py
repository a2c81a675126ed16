from django.apps import AppConfig


class SheetsConfig(AppConfig):
    name = "shop.sheets"
    verbose_name = "sheets"
