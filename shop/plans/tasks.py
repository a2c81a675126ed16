"""What Celery workers do: look for work. No arguments, so a message that comes twice or never changes nothing."""

from celery.signals import worker_ready

from shop.celery import NUDGE, app
from shop.plans import worker


@app.task(name=NUDGE)
def nudge() -> None:
    worker.look()


@worker_ready.connect
def look_for_what_waited(**_: object) -> None:
    nudge.delay()
