"""How full the workshop is by the plan in force: minutes used and minutes open, from now until some instant."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime

from planner import StationLoad
from shop.plans.models import Plan
from shop.stations.models import Skill, Station

HANDS, ROUTER, LASER, CLAMPS, RACK = "hands", "router", "laser", "clamp", "rack"
BENCH, DETAIL = "bench hands", "detail hands"
"""Hours of those who can run the router, and who can mask, paint and peel, where that isn't everybody."""
BY_SKILL = {BENCH: Skill.Kind.ROUTER, DETAIL: Skill.Kind.DETAIL}
BY_ROLE = {
    Station.Role.ROUTER: ROUTER,
    Station.Role.LASER: LASER,
    Station.Role.CLAMPS: CLAMPS,
    Station.Role.RACK: RACK,
}
"""The stations whose hours are counted, and what an hour of them is called; of clamps and rack an hour of one place."""
UNATTENDED = {CLAMPS, RACK}

Interval = tuple[float, float]


def loads_until(plan: Plan, at: datetime, until: datetime) -> dict[str, StationLoad]:
    """By resource. What the plan places after `until` is not counted."""
    problem, document = plan.problem, plan.document
    origin = datetime.fromisoformat(problem["origin"])
    window = _minute(at, origin), _minute(until, origin)
    resource_of = {row.name: BY_ROLE[row.role] for row in Station.objects.filter(role__in=BY_ROLE)}
    whose = _whose_hands(problem)
    used = _used(problem, document, resource_of, whose, window)
    opened = _opened(problem, resource_of, whose, window)
    return {name: StationLoad(used[name], opened[name]) for name in (*whose, *dict.fromkeys(resource_of.values()))}


def _whose_hands(problem: Mapping) -> dict[str, set[str]]:
    """Everybody's hands, and those of the few who have a skill that not everybody has."""
    everybody = {person["id"] for person in problem["people"]}
    able = {
        name: {person["id"] for person in problem["people"] if skill in person["skills"]}
        for name, skill in BY_SKILL.items()
    }
    return {HANDS: everybody} | {name: people for name, people in able.items() if people and people != everybody}


def _used(
    problem: Mapping,
    document: Mapping,
    resource_of: Mapping[str, str],
    whose: Mapping[str, set[str]],
    window: Interval,
) -> dict[str, float]:
    used: dict[str, float] = defaultdict(float)
    steps = {step["id"]: step for step in problem["steps"]}
    placed = {each["step"]: each for each in document["placed"]}
    for each in placed.values():
        step = steps[each["step"]]
        for name, people in whose.items():
            if name == HANDS or each["person"] in people:
                used[name] += _hands(step, each, window)
        for need, station in zip(step["stations"], each["stations"], strict=False):
            if station in resource_of:
                span = each["start"] - each["changeover"], each["end"]
                used[resource_of[station]] += need.get("load", 1) * _overlap(span, window)
    for hold in problem.get("holds", ()):
        if hold["station"] in resource_of and {hold["from"], hold["to"]} <= placed.keys():
            span = placed[hold["from"]]["start"], placed[hold["to"]]["end"]
            used[resource_of[hold["station"]]] += hold["load"] * _overlap(span, window)
    return used


def _hands(step: Mapping, placed: Mapping, window: Interval) -> float:
    minutes = _overlap((placed["start"] - placed["changeover"], placed["start"]), window)
    at = placed["start"]
    for segment in step["segments"]:
        if segment["need"] == "hands":
            minutes += _overlap((at, at + segment["minutes"]), window)
        at += segment["minutes"]
    return minutes


def _opened(
    problem: Mapping, resource_of: Mapping[str, str], whose: Mapping[str, set[str]], window: Interval
) -> dict[str, float]:
    hours = [tuple(interval) for person in problem["people"] for interval in person["hours"]]
    opened: dict[str, float] = defaultdict(float)
    for person in problem["people"]:
        for name in (name for name, people in whose.items() if person["id"] in people):
            opened[name] += sum(_overlap(tuple(interval), window) for interval in person["hours"])
    somebody_here = sum(_overlap(interval, window) for interval in _joined(hours))
    for station in problem["stations"]:
        resource = resource_of.get(station["id"])
        if resource is None:
            continue
        if station["hours"] is not None:
            minutes = sum(_overlap(tuple(interval), window) for interval in station["hours"])
        else:
            minutes = window[1] - window[0] if resource in UNATTENDED else somebody_here
        opened[resource] += station["capacity"] * max(0.0, minutes)
    return opened


def _joined(intervals: Iterable[Interval]) -> list[Interval]:
    joined: list[Interval] = []
    for opens, closes in sorted(intervals):
        if joined and opens <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], closes)
        else:
            joined.append((opens, closes))
    return joined


def _overlap(span: Interval, window: Interval) -> float:
    return max(0.0, min(span[1], window[1]) - max(span[0], window[0]))


def _minute(at: datetime, origin: datetime) -> float:
    return (at - origin).total_seconds() / 60
