"""The plan exchange: a problem and a plan as JSON documents, read and written.

Whatever breaks the format is refused with one line that names the field and the id. So is what no workshop of two
can mean: a document of more than 32 MiB (`documents`), more than 20,000 entries in a list (100,000 links or holds;
fewer for people, stations, segments and the like: `exchange_parts`), minutes further than 50 years from the origin or
more of them, more than 1,000,000,000 units of room, a weight or a price of 1e15 or more, an id of more than 500
letters (`fields`).
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

from planner import documents
from planner.errors import PlanError, ProblemError
from planner.exchange_parts import MOST_LINKS, part_to_json, problem_parts
from planner.fields import Fields
from planner.plan import Missed, Placed, Plan, Status, Unplaced
from planner.problem import Problem

PROBLEM_FORMAT = "workshop-steps/1"
PLAN_FORMAT = "workshop-plan/1"


def problem_from_json(value: object) -> Problem:
    """The problem in a parsed document; raises `ProblemError` naming the field and the id."""
    fields = Fields(value, "problem", ProblemError)
    _check_format(fields, PROBLEM_FORMAT)
    fields.where = ""
    return Problem(origin=_origin(fields), now=fields.minutes("now"), **problem_parts(fields))


def problem_to_json(problem: Problem) -> dict[str, Any]:
    """The document of a problem, ready for `json.dumps`."""
    return {
        "format": PROBLEM_FORMAT,
        "origin": problem.origin.isoformat(),
        "now": problem.now,
        "people": [part_to_json(person) for person in problem.people],
        "stations": [part_to_json(station) for station in problem.stations],
        "steps": [part_to_json(step) for step in problem.steps],
        "links": [part_to_json(link) for link in problem.links],
        "holds": [part_to_json(hold) for hold in problem.holds],
        "orders": [part_to_json(order) for order in problem.orders],
        "cost": part_to_json(problem.prices),
    }


def plan_from_json(value: object) -> Plan:
    """The plan in a parsed document; raises `PlanError` naming the field and the step."""
    fields = Fields(value, "plan", PlanError)
    _check_format(fields, PLAN_FORMAT)
    status = fields.text("status")
    if status not in list(Status):
        raise fields.wrong("status", "optimal, feasible or partial")
    return Plan(
        status=Status(status),
        cost=fields.sum("cost"),
        bound=fields.sum_or_null("bound"),
        seconds=fields.sum("seconds"),
        placed=tuple(_placed(row) for row in fields.rows("placed")),
        missed=tuple(_missed(row) for row in fields.rows("missed", most=MOST_LINKS)),
        unplaced=tuple(Unplaced(row.text("step"), row.sentence("why")) for row in fields.rows("unplaced")),
    )


def plan_to_json(plan: Plan) -> dict[str, Any]:
    """The document of a plan, ready for `json.dumps`."""
    return {
        "format": PLAN_FORMAT,
        "status": plan.status.value,
        "cost": plan.cost,
        "bound": plan.bound,
        "seconds": round(plan.seconds, 3),
        "placed": [
            {
                "step": placed.step,
                "start": placed.start,
                "end": placed.end,
                "person": placed.person,
                "stations": list(placed.stations),
                "changeover": placed.changeover,
            }
            for placed in plan.placed
        ],
        "missed": [{"from": each.before, "to": each.after, "minutes": each.minutes} for each in plan.missed],
        "unplaced": [{"step": each.step, "why": each.why} for each in plan.unplaced],
    }


def read_problem(path: str | Path) -> Problem:
    """The problem in a file, or on standard input for `-`."""
    return problem_from_json(documents.read(path, "problem", ProblemError))


def read_plan(path: str | Path) -> Plan:
    """The plan in a file, or on standard input for `-`."""
    return plan_from_json(documents.read(path, "plan", PlanError))


def write_problem(problem: Problem, path: str | Path) -> None:
    """Write a problem whole or not at all; `-` is standard output."""
    documents.write(problem_to_json(problem), path)


def write_plan(plan: Plan, path: str | Path) -> None:
    """Write a plan whole or not at all; `-` is standard output."""
    documents.write(plan_to_json(plan), path)


def _check_format(fields: Fields, wanted: str) -> None:
    if fields.text("format") != wanted:
        raise fields.wrong("format", f'"{wanted}"')


def _origin(fields: Fields) -> datetime:
    try:
        return datetime.fromisoformat(fields.text("origin"))
    except ValueError:
        raise fields.wrong("origin", "an ISO 8601 instant with its offset, as 2026-03-02T00:00:00-05:00") from None


def _placed(row: Fields) -> Placed:
    return Placed(
        step=row.text("step"),
        start=row.moment("start"),
        end=row.moment("end"),
        person=row.text_or_null("person"),
        stations=row.texts("stations"),
        changeover=row.minutes("changeover", least=0),
    )


def _missed(row: Fields) -> Missed:
    return Missed(row.text("from"), row.text("to"), row.moment("minutes", least=0))
