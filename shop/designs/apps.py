from django.apps import AppConfig


class DesignsConfig(AppConfig):
    name = "shop.designs"

    def ready(self) -> None:
        from shop.designs import news

        news.listen()
