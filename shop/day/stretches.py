"""A step as stretches by the clock: hands, within earshot, left alone; as planned, as begun, as it really was."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from shop.floor.models import Step

HANDS, WATCH, ALONE = "hands", "watch", "alone"
NEED_WORDS = {HANDS: "hands", WATCH: "within earshot", ALONE: "leave alone"}


@dataclass(frozen=True)
class Placed:
    """A step where it stands in the day."""

    step: Step
    starts_at: datetime
    person_id: int | None
    changeover_minutes: int = 0
    why: str = ""
    caution: str = ""

    @property
    def change_at(self) -> datetime:
        """When the bit change before it begins."""
        return self.starts_at - timedelta(minutes=self.changeover_minutes)

    @property
    def may_have_spoilt(self) -> bool:
        """A bit has been at its pieces; the router's page takes down which one it spoilt."""
        return self.step.kind in {"router", "carve"} and self.step.state != "waiting"

    def is_late(self, at: datetime) -> bool:
        """It should have begun, and nobody said so."""
        return self.step.state == "waiting" and self.change_at < at


@dataclass(frozen=True)
class Stretch:
    """One stretch of a step, from one instant to another."""

    placed: Placed
    need: str
    starts_at: datetime
    ends_at: datetime
    is_first: bool
    is_last_attended: bool
    is_late: bool

    @property
    def need_words(self) -> str:
        return NEED_WORDS[self.need]

    @property
    def minutes(self) -> int:
        return round((self.ends_at - self.starts_at).total_seconds() / 60)

    @property
    def holds_the_verbs(self) -> bool:
        """One stretch of a step has its buttons: the first until it has begun, then the one it is ticked in."""
        return self.is_first if self.placed.step.state == "waiting" else self.is_last_attended


def stretches(placed: Placed, at: datetime) -> list[Stretch]:
    """The stretches of a step in their order, as known at `at`."""
    spans = list(_as_done(placed.step) if placed.step.ticked else _as_planned(placed, at))
    last_attended = max((n for n, (need, *_) in enumerate(spans) if need != ALONE), default=0)
    is_late = placed.is_late(at)
    return [
        Stretch(placed, need, starts_at, ends_at, is_first=n == 0, is_last_attended=n == last_attended, is_late=is_late)
        for n, (need, starts_at, ends_at) in enumerate(spans)
    ]


Span = tuple[str, datetime, datetime]


def _as_done(step: Step) -> Iterator[Span]:
    """What it really was: how its minutes fell within is not known, so they are one stretch."""
    yield HANDS, step.begun_at, max(step.ticked.at, step.begun_at + timedelta(minutes=1))
    if step.alone_minutes:
        yield ALONE, step.ticked.at, step.ended_at


def _as_planned(placed: Placed, at: datetime) -> Iterator[Span]:
    """From when it begins or began; what nobody has ticked yet goes on until now."""
    step = placed.step
    start = step.begun_at or placed.change_at
    attended_to_go = step.attended_minutes
    for place, (minutes, need) in enumerate(step.segments):
        length = minutes + (placed.changeover_minutes if place == 0 and not step.begun_at else 0)
        end = start + timedelta(minutes=length)
        attended_to_go -= minutes
        if need != ALONE and attended_to_go <= 0 and step.begun_at:
            end = max(end, at)
        yield need, start, end
        start = end
