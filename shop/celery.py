"""Celery, where there is a Redis: it carries one message, "look for work", and never the work itself."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

NUDGE = "shop.plans.tasks.nudge"
SWEEP_SECONDS = 10

app = Celery("benchtide")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
# What a lost message or a worker that died left waiting is found by the next sweep. A sweep that waited behind
# a long run is worth nothing any more, so it expires.
app.conf.beat_schedule = {
    "look for waiting runs": {"task": NUDGE, "schedule": SWEEP_SECONDS, "options": {"expires": SWEEP_SECONDS}}
}
