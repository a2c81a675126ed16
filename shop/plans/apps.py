from django.apps import AppConfig


class PlansConfig(AppConfig):
    name = "shop.plans"
    verbose_name = "plans"

    def ready(self) -> None:
        from shop.plans.news import listen

        listen()
