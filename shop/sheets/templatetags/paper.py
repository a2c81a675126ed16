"""Times on paper: a sheet is read on its own day, not on the day it was printed."""

from __future__ import annotations

from datetime import date, datetime

from django import template
from django.utils import timezone

from shop.words import clock

register = template.Library()


@register.filter
def clock_on(at: datetime | None, day: date) -> str:
    """The clock on the sheet's own day, else with its weekday: "7:40", "Fri 7:40", "Fri 11 Dec 7:40"."""
    if at is None:
        return ""
    there = timezone.localdate(at)
    away = abs((there - day).days)
    if not away:
        return clock(at)
    name = f"{there:%a}" if away < 6 else full_day(there)
    return f"{name} {clock(at)}"


@register.simple_tag
def window_on(opens_at: datetime, closes_at: datetime | None, day: date) -> str:
    """ "7:40 to 11:40", "Fri 7:40 to 11:40", "from 7:40" or "at any time" where nothing spoils by it."""
    if closes_at is None:
        return f"from {clock_on(opens_at, day)}" if timezone.localdate(opens_at) >= day else "at any time"
    same_day = timezone.localdate(opens_at) == timezone.localdate(closes_at)
    return f"{clock_on(opens_at, day)} to {clock(closes_at) if same_day else clock_on(closes_at, day)}"


IN_A_WORD = {"hands": "hands", "watch": "earshot", "alone": "alone"}


@register.filter
def need_in_a_word(need: str) -> str:
    """For the narrow column; the legend says it in full."""
    return IN_A_WORD[need]


@register.filter
def full_day(day: date) -> str:
    """ "Thu 3 Dec": never today or tomorrow, for paper lies about."""
    return f"{day:%a} {day.day} {day:%b}"
