"""The plan in force, said again for the shop as it stands now: where a new search starts from."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from planner import Missed, Placed, Plan, Status, Step, Unplaced, cost, plan_to_json
from shop.plans.handoff.reading import Shop
from shop.plans.models import Plan as PlanRow


def plan_so_far(shop: Shop) -> dict | None:
    """The plan in force as a plan document for the new problem, or None where it doesn't cover the work.

    Whether it still keeps the rules is for the search to judge.
    """
    current = PlanRow.objects.in_force()
    if current is None:
        return None
    known = _placed(current, shop)
    unplaced = {each["step"]: each["why"] for each in current.document["unplaced"]}
    placed, left_out = [], []
    for step in shop.problem.steps:
        if step.begun:
            placed.append(_as_begun(step))
        elif step.id in known:
            placed.append(known[step.id])
        elif step.id in unplaced:
            left_out.append(Unplaced(step.id, unplaced[step.id]))
        else:
            return None
    return _document(shop, tuple(placed), tuple(left_out), _missed(current, shop))


def _placed(current: PlanRow, shop: Shop) -> dict[str, Placed]:
    later = shop.clock.minute(datetime.fromisoformat(current.problem["origin"]))
    known = {}
    for each in current.document["placed"]:
        start, end = each["start"] + later, each["end"] + later
        known[each["step"]] = Placed(
            each["step"], start, end, each["person"], tuple(each["stations"]), each["changeover"]
        )
    return known


def _as_begun(step: Step) -> Placed:
    return Placed(step.id, step.begun.start, step.begun.start + step.minutes, step.begun.person, step.begun.stations)


def _missed(current: PlanRow, shop: Shop) -> tuple[Missed, ...]:
    links = {(link.before, link.after) for link in shop.problem.links}
    missed = (Missed(each["from"], each["to"], each["minutes"]) for each in current.document["missed"])
    return tuple(each for each in missed if (each.before, each.after) in links)


def _document(shop: Shop, placed: tuple, unplaced: tuple, missed: tuple) -> dict:
    status = Status.PARTIAL if unplaced else Status.FEASIBLE
    plan = Plan(status, 0.0, placed, missed=missed, unplaced=unplaced)
    return plan_to_json(replace(plan, cost=cost(shop.problem, plan)))
