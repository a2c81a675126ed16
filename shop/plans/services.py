"""Plans made and put in force: read the shop, plan at once, then search, and never leave a worse plan in force."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Protocol

from django.utils.timezone import now

from planner import plan_from_json, problem_to_json
from shop.plans.handoff import Shop, plan_so_far, read_shop, write_plan
from shop.plans.models import Plan

Report = Callable[[dict], None]


class Search(Protocol):
    """Finds a plan document for a problem document; no worse than `start` where that keeps the rules."""

    def __call__(self, problem: dict, *, seconds: int, start: dict | None, on_progress: Report) -> dict: ...


def replan(*, seconds: int, search: Search, on_progress: Report = lambda _: None, at: datetime | None = None) -> Plan:
    """A valid plan in force at once, then the best that a search of so many seconds finds.

    `at`: the instant to plan for, the present by default. Raises PlannerError where the shop's data make no sense.
    """
    shop = read_shop(at or now())
    problem = problem_to_json(shop.problem)
    found = search(problem, seconds=0, start=plan_so_far(shop), on_progress=on_progress)
    in_force = _put_in_force(shop, found)
    if seconds:
        found = search(problem, seconds=seconds, start=found, on_progress=on_progress)
        in_force = _put_in_force(shop, found)
    return in_force


def _put_in_force(shop: Shop, document: dict) -> Plan:
    return write_plan(shop, plan_from_json(document))


def mark_stale(because: str) -> None:
    """Say on every page that the plan in force doesn't know the latest; of several changes the last is named."""
    Plan.objects.filter(is_in_force=True).update(stale_since=now(), stale_because=because[:120])
