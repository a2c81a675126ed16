"""The changeovers that no plan can spare: each state that is needed must be set up once."""

from __future__ import annotations

from collections.abc import Collection

from planner.problem import Station, Step
from planner.search.facts import Facts


def least_changeover_minutes(facts: Facts, hopeless: Collection[str]) -> int:
    """Minutes of changeover in any plan that leaves out no more than the hopeless steps."""
    steps = [step for step in facts.problem.steps if not step.begun and step.id not in hopeless]
    return sum(_least_at(facts, station, steps) for station in facts.problem.stations if station.has_states)


def _least_at(facts: Facts, station: Station, steps: list[Step]) -> int:
    """Each state needed here that neither stands here now nor is left by other work, at its cheapest."""
    perhaps_here = [step for step in steps if any(station.id in need.any_of for need in step.stations)]
    surely_here = [step for step in steps if any({station.id} == set(need.any_of) for need in step.stations)]
    first = {station.start_state, *(_left_by_begun(facts, station))}
    left = {step.leaves_state for step in perhaps_here if step.leaves_state != step.state_in}
    states = (first | {step.leaves_state for step in perhaps_here}) - {None}
    wanted = {step.state_in for step in surely_here} - first - left - {None}
    minutes = [
        min((station.changeover_minutes(state, want) for state in states - {want}), default=0) for want in wanted
    ]
    return sum(minutes) - (max(minutes, default=0) if station.start_state is None else 0)


def _left_by_begun(facts: Facts, station: Station) -> set[str]:
    begun = [step for step in facts.problem.steps if step.begun and station.id in step.begun.stations]
    return {step.leaves_state for step in begun if step.leaves_state is not None}
