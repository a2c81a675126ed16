"""The workshop's problem in one pure form: every step takes the same station in turn, and nothing else matters.

Then a plan is a sequence, and the router's queue with its bits is a problem of its own: one machine, set-ups that
depend on the sequence, and whatever the price list says.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.parts import Station
from planner.search.facts import Facts
from planner.search.sequences.form import Form
from planner.search.sequences.unlimited import NOBODY, always_there, is_running, is_watched, only_station

MOST_STEPS = 1_500  # the table of changeovers from each step to each other is kept
LONGEST = (1 << 31) - 1  # minutes: more would not fit into that table


@dataclass(frozen=True)
class OneStation(Form):
    """Steps that all take one station, one after the other, each with the person who is there all the time."""

    station: Station
    people: dict[str, str | None]
    free: int  # the minute from which on the station is free
    state: str | None  # and what stands on it then


def one_station(facts: Facts) -> OneStation | None:
    """The problem in this form; None where it has none."""
    steps = list(facts.steps.values())
    if not 2 <= len(steps) <= MOST_STEPS or facts.problem.holds or any(facts.links_in.values()):
        return None
    names = {choice for step in steps for choice in step.choices[:2]}
    if len(names) != 1 or len(next(iter(names))) != 1:
        return None
    station = facts.problem.station[next(iter(names))[0]]
    span = (facts.now, _latest_end(facts, station))
    if not all(only_station(facts, step, span) and is_watched(facts.problem, step, span) for step in steps):
        return None
    stateless = station.has_states and any(step.leaves is None for step in steps)
    if stateless or max(step.minutes for step in steps) + _longest_changeover(station) > LONGEST:
        return None
    people = {step.id: always_there(facts, step, span) for step in steps}
    if NOBODY in people.values():
        return None
    free, state = _after_begun(facts, station)
    return OneStation(facts, station, people, free, state)


def _latest_end(facts: Facts, station: Station) -> int:
    """When the last step ends at the latest, whatever the sequence."""
    longest = _longest_changeover(station)
    begin = max([*facts.begun_end.values(), *(step.earliest for step in facts.steps.values())])
    return begin + sum(step.minutes + longest for step in facts.steps.values())


def _longest_changeover(station: Station) -> int:
    return max([station.changeover_default, *station.changeovers.values()])


def _after_begun(facts: Facts, station: Station) -> tuple[int, str | None]:
    """From when on the station is free of what is running on it, and what that leaves there."""
    running = [
        (step.begun.start, step)
        for step in facts.problem.steps
        if step.begun and is_running(step, facts.now) and station.id in step.begun.stations
    ]
    state = station.start_state
    for _, step in sorted(running, key=lambda each: (each[0], each[0] + each[1].minutes)):
        state = step.leaves_state or state
    ends = [start + step.minutes for start, step in running]
    return max([facts.now, *ends]), state
