"""A planning run in plain words."""

from django import template

from shop.plans.models import Job

register = template.Library()


@register.filter
def progress_in_words(job: Job) -> str:
    """ "7 of 20 seconds. The best plan so far costs 184; no plan can cost less than 150." """
    return " ".join(part for part in (_seconds(job), _cost(job)) if part)


def _seconds(job: Job) -> str:
    elapsed = job.progress.get("elapsed")
    return "" if elapsed is None or not job.is_open else f"{elapsed:.0f} of {job.seconds} seconds."


def _cost(job: Job) -> str:
    cost, bound = job.progress.get("cost"), job.progress.get("bound")
    if cost is None:
        return ""
    best = f"The best plan so far costs {cost:.0f}" if job.is_open else f"It costs {cost:.0f}"
    return f"{best}." if bound is None else f"{best}; no plan can cost less than {bound:.0f}."
