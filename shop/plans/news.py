"""When the work changes the plan is stale, and a new one is asked for."""

from __future__ import annotations

from shop.plans import jobs, services
from shop.signals import work_changed


def listen() -> None:
    work_changed.connect(plan_again, dispatch_uid="plan again")


def plan_again(*, because: str, **_: object) -> None:
    """Say so on every page, and ask for a planning run."""
    services.mark_stale(because)
    jobs.ask(because=because)
