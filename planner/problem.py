"""One whole problem: what is to be planned, with every reference resolved.

All times are whole elapsed minutes since `Problem.origin`; all intervals are half-open.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from planner.checks import (
    check_begun,
    check_ids,
    check_links,
    check_links_have_no_cycle,
    check_references,
    check_states,
)
from planner.errors import ProblemError
from planner.parts import (
    Begun,
    Hold,
    Interval,
    Link,
    Need,
    Order,
    Person,
    Prices,
    Segment,
    Station,
    StationNeed,
    Step,
    Wait,
    joined,
)

__all__ = [
    "Begun",
    "Hold",
    "Interval",
    "Link",
    "Need",
    "Order",
    "Person",
    "Prices",
    "Problem",
    "Segment",
    "Station",
    "StationNeed",
    "Step",
    "Wait",
]


@dataclass(frozen=True)
class Problem:
    """One whole problem. Ids are unique, every reference resolves, links have no cycle."""

    origin: datetime
    now: int
    people: tuple[Person, ...]
    stations: tuple[Station, ...]
    steps: tuple[Step, ...]
    links: tuple[Link, ...] = ()
    holds: tuple[Hold, ...] = ()
    orders: tuple[Order, ...] = ()
    prices: Prices = field(default_factory=Prices)

    def __post_init__(self) -> None:
        if self.origin.tzinfo is None:
            raise ProblemError(
                "origin: an instant with its offset from UTC is needed, such as 2026-03-02T00:00:00-05:00"
            )
        for name in ("people", "stations", "steps", "orders"):
            check_ids(name, [part.id for part in getattr(self, name)])
        check_references(self.people, self.stations, self.steps, self.links, self.holds, self.orders)
        check_begun(self.steps, self.now)
        check_states(self.station, self.steps)
        check_links(self.links)
        check_links_have_no_cycle(self.steps, self.links)

    @cached_property
    def person(self) -> dict[str, Person]:
        return {person.id: person for person in self.people}

    @cached_property
    def station(self) -> dict[str, Station]:
        return {station.id: station for station in self.stations}

    @cached_property
    def step(self) -> dict[str, Step]:
        return {step.id: step for step in self.steps}

    @cached_property
    def latest_close(self) -> int:
        """The latest close of anyone's hours; the horizon unless a plan ends later.

        Where nobody has hours it is when the last begun step ends, which every plan has; without such a step, now.
        """
        closes = [close for person in self.people for _, close in person.hours]
        begun = [step.begun.start + step.minutes for step in self.steps if step.begun]
        return max(closes or begun or [self.now])

    @cached_property
    def watched(self) -> tuple[Interval, ...]:
        """When at least one person is in their hours."""
        return joined(interval for person in self.people for interval in person.hours)
