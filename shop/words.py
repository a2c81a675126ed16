"""How pages and papers say numbers: 135 -> "2 h 15", nanometres -> 3/4, an instant -> the clock on the wall."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

from django import template
from django.utils import timezone

from planner import say_inches

register = template.Library()


@register.filter
def duration(minutes: float | None) -> str:
    """135 -> "2 h 15", 45 -> "45 min"."""
    if minutes is None:
        return ""
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02}" if rest else f"{hours} h"


@register.filter
def span(minutes: float | None) -> str:
    """A long time as people say it: 3 days, 5 h, 40 min."""
    if minutes is None or minutes < 24 * 60:
        return duration(minutes if minutes is None or minutes < 120 else round(minutes / 60) * 60)
    days = round(minutes / (24 * 60))
    return "1 day" if days == 1 else f"{days} days"


@register.filter
def counted(number: int, thing: str) -> str:
    """1 order, 2 orders: for things that take an s."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


@register.filter
def board_feet(number: float) -> str:
    """1 board foot, 12 board feet."""
    return f"{number:g} board {'foot' if number == 1 else 'feet'}"


@register.filter
def inches(nm: int | None) -> str:
    """19050000 -> "3/4"."""
    return "" if nm is None else say_inches(nm)


@register.filter
def clock(at: datetime | None) -> str:
    """The time of day in the workshop: "7:40"."""
    if at is None:
        return ""
    here = timezone.localtime(at)
    return f"{here.hour}:{here.minute:02}"


@register.filter
def day_name(day: date | datetime | None) -> str:
    """today, tomorrow, yesterday, else "Thu 3 Dec"."""
    if day is None:
        return ""
    when = timezone.localtime(day).date() if isinstance(day, datetime) else day
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    return near.get((when - timezone.localdate()).days) or f"{when:%a} {when.day} {when:%b}"


@register.filter
def moment(at: datetime | None) -> str:
    """The clock, with its day unless that is today: "tomorrow 7:40"."""
    if at is None:
        return ""
    day = day_name(at)
    return clock(at) if day == "today" else f"{day} {clock(at)}"


@register.filter
def moment_on(at: datetime | None, day: date) -> str:
    """The clock on a page of `day`, with its own day wherever that is another: "today 14:55" on tomorrow's page."""
    if at is None or timezone.localdate(at) == day:
        return clock(at)
    return f"{day_name(at)} {clock(at)}"


@register.filter
def window(opens_at: datetime | None, closes_at: datetime | None) -> str:
    """When something may be touched: "7:40 to 11:40", "tomorrow 7:40 to 11:40", "from 7:40" where there is no end."""
    if opens_at is None:
        return f"before {moment(closes_at)}" if closes_at else ""
    if closes_at is None:
        return f"from {moment(opens_at)}"
    same_day = day_name(opens_at) == day_name(closes_at)
    return f"{moment(opens_at)} to {clock(closes_at) if same_day else moment(closes_at)}"


ACTS = {
    "rip": "rip strips",
    "glue": "glue up",
    "unclamp": "take off the clamps",
    "flatten": "plane flat",
    "cut": "cut to size",
    "router": "rout",
    "brush": "brush clean",
    "seal": "seal",
}
"""The kinds of step whose name is not yet what a person does."""


@register.filter
def act(kind: str) -> str:
    """What a person does at a step of this kind: "wipe", "plane flat"."""
    return ACTS.get(kind, kind)


@register.filter
def dollars(amount: Decimal | None) -> str:
    """Money as it stands on a price tag."""
    if amount is None:
        return ""
    return f"-${-amount:.2f}" if amount < 0 else f"${amount:.2f}"


@register.filter
def lost(amount: Decimal) -> str:
    """What is lost, as money: -4 -> "$4.00"."""
    return dollars(-amount)
