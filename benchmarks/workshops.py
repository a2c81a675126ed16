"""Invented workshops for measuring: seeded problems of any size with the shape of a shop that makes wooden ware.

Two people, a router with bits as states, clamps, a drying rack, a bench and a detail corner. Pieces come in orders;
glue-ups, router loads and oilings are shared by several pieces.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone

from planner.problem import (
    Hold,
    Interval,
    Link,
    Need,
    Order,
    Person,
    Prices,
    Problem,
    Segment,
    Station,
    StationNeed,
    Step,
)

DAY = 24 * 60
HANDS_A_DAY = 13 * 60  # minutes of both people on a weekday
BITS = ("bowl-3/4", "downcut-1/4", "v-90", "ball-1/4", "upcut-1/8")
PRICES = Prices(missed_hard=500, late_hour=1, missed_window_hour=20, changeover_minute=0.2, finish_hour=0.02)


@dataclass
class Growing:
    """The parts of a problem while it grows."""

    chance: random.Random
    steps: list[Step] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    orders: list[Order] = field(default_factory=list)

    def step(
        self,
        name: str,
        segments: list[tuple[int, Need]],
        skill: str | None,
        *stations: StationNeed,
        bit: str | None = None,
    ) -> str:
        made = [Segment(minutes, need) for minutes, need in segments]
        self.steps.append(Step(f"{name}-{len(self.steps)}", tuple(made), skill, stations, bit))
        return self.steps[-1].id

    def link(self, before: str, after: str, least: int = 0, most: int | None = None) -> None:
        self.links.append(Link(before, after, least, most))


def workshop(size: int, seed: int = 0, spare: float = 1.4, tight: float = 3) -> Problem:
    """A problem of about `size` steps: hours for `spare` times the work, dues that come up to `tight` days too soon."""
    growing = Growing(random.Random(seed))  # noqa: S311 - a repeatable example, not a secret
    while len(growing.steps) < size:
        _grow_lot(growing)
    days = _days_needed(growing, spare)
    _set_dues(growing, days, tight)
    return _problem(growing, days)


def _problem(growing: Growing, days: int) -> Problem:
    return Problem(
        origin=datetime(2026, 3, 2, tzinfo=timezone(timedelta(hours=-5))),
        now=8 * 60,
        people=(
            Person("ana", frozenset({"wood", "router", "finish", "detail"}), hours(days, 8, 17, evening=True)),
            Person("ben", frozenset({"wood", "finish", "pack"}), hours(days, 9, 16, evening=False)),
        ),
        stations=(
            Station("router", 1, None, BITS[0], {}, 8),
            Station("clamps", 24),
            Station("rack", 4000),
            Station("bench", 2),
            Station("corner", 1),
        ),
        steps=tuple(growing.steps),
        links=tuple(growing.links),
        holds=tuple(growing.holds),
        orders=tuple(growing.orders),
        prices=PRICES,
    )


def full_workshop(size: int, seed: int = 0, load: float = 1.0) -> Problem:
    """A problem of about `size` steps with fewer orders, each for pieces of several lots made about together.

    Hands are as busy as `load` says while orders fall due.
    """
    growing = Growing(random.Random(f"full {size} {seed}"))  # noqa: S311 - a repeatable example, not a secret
    while len(growing.steps) < size:
        _grow_lot(growing)
    days = max(5, int(_hands_minutes(growing) / HANDS_A_DAY / load * 7 / 5))
    _share_out(growing, min(80, max(10, size // 8)), days)
    return _problem(growing, int(1.6 * days) + 14)


def _share_out(growing: Growing, count: int, days: int) -> None:
    """The pieces go to `count` orders, most of them to one near their place in the book, which are due in turn."""
    chance, pieces = growing.chance, [step for order in growing.orders for step in order.steps]
    taken: list[list[str]] = [[] for _ in range(count)]
    for place, piece in enumerate(pieces):
        about = int(count * place / len(pieces) + chance.gauss(0, 1.5))
        taken[min(count - 1, max(0, about))].append(piece)
    growing.orders = [
        Order(
            f"order-{place}",
            tuple(steps),
            max(3, int(4 + days * place / count + chance.uniform(-3, 3))) * DAY + 17 * 60,
            chance.choice((1, 1, 1, 2, 4)),
            chance.random() < 0.15,
        )
        for place, steps in enumerate(taken)
        if steps
    ]


def hours(days: int, opens: int, closes: int, *, evening: bool) -> tuple[Interval, ...]:
    """Weekday hours, with a lunch hour, and an evening hour for one of the two."""
    intervals = []
    for day in range(days):
        if day % 7 < 5:
            intervals += [(day * DAY + opens * 60, day * DAY + 720), (day * DAY + 765, day * DAY + closes * 60)]
        if evening:
            intervals.append((day * DAY + 20 * 60, day * DAY + 21 * 60))
    return tuple(intervals)


def _grow_lot(growing: Growing) -> None:
    """A lot: one to six pieces of one design, glued, routed, sanded, detailed, oiled and packed."""
    chance = growing.chance
    pieces = chance.randint(1, 6)
    ready = _glue_up(growing, pieces) if chance.random() < 0.6 else None
    load = _router_load(growing, pieces, ready)
    sanded = []
    for _ in range(pieces):
        sand = growing.step("sand", [(chance.randint(8, 25), Need.HANDS)], "wood", StationNeed(("bench",)))
        growing.link(load, sand)
        sanded.append(_detail(growing, sand) if chance.random() < 0.35 else sand)
    packed = _oil(growing, sanded)
    for steps in _split(packed, chance):
        growing.orders.append(Order(f"order-{len(growing.orders)}", tuple(steps), 0, chance.choice((1, 1, 1, 2, 4))))


def _split(steps: list[str], chance: random.Random) -> list[list[str]]:
    cut = chance.randint(0, len(steps))
    return [part for part in (steps[:cut], steps[cut:]) if part]


def _glue_up(growing: Growing, pieces: int) -> str:
    chance = growing.chance
    rip = growing.step("rip", [(10 * pieces, Need.HANDS)], "wood")
    glue = growing.step("glue", [(8 * pieces + 10, Need.HANDS), (60, Need.ALONE)], "wood")
    off = growing.step("unclamp", [(5 + pieces, Need.HANDS)], "wood")
    plane = growing.step("plane", [(5 * pieces, Need.HANDS)], "wood", StationNeed(("bench",)))
    growing.link(rip, glue)
    growing.link(glue, off)
    growing.link(off, plane, chance.choice((12, 16, 24)) * 60)
    growing.holds.append(Hold("clamps", min(24, 3 * pieces), glue, off))
    return plane


def _router_load(growing: Growing, pieces: int, ready: str | None) -> str:
    chance = growing.chance
    load = growing.step(
        "route",
        [(10, Need.HANDS), (15 * pieces, Need.WATCH), (5, Need.HANDS)],
        "router",
        StationNeed(("router",)),
        bit=chance.choice(BITS),
    )
    if ready:
        growing.link(ready, load)
    return load


def _detail(growing: Growing, before: str) -> str:
    """Seal, paint and peel, each within its window."""
    corner = StationNeed(("corner",))
    seal = growing.step("seal", [(10, Need.HANDS)], "detail", corner)
    paint = growing.step("paint", [(growing.chance.randint(15, 40), Need.HANDS)], "detail", corner)
    peel = growing.step("peel", [(10, Need.HANDS)], "detail", corner)
    growing.link(before, seal)
    growing.link(seal, paint, 30, 240)
    growing.link(paint, peel, 30, 120)
    return peel


def _oil(growing: Growing, sanded: list[str]) -> list[str]:
    """One oiling for the lot, wiped 12 to 16 h later, dry 4 h after that; then each piece is packed."""
    oil = growing.step("oil", [(6 * len(sanded) + 5, Need.HANDS)], "finish")
    wipe = growing.step("wipe", [(3 * len(sanded) + 3, Need.HANDS)], "finish")
    growing.link(oil, wipe, 12 * 60, 16 * 60)
    growing.holds.append(Hold("rack", min(4000, 250 * len(sanded)), oil, wipe))
    packs = []
    for piece in sanded:
        growing.link(piece, oil)
        packs.append(growing.step("pack", [(8, Need.HANDS)], "finish"))
        growing.link(wipe, packs[-1], 240)
    return packs


def _days_needed(growing: Growing, spare: float) -> int:
    return 10 + int(spare * _hands_minutes(growing) / HANDS_A_DAY * 7 / 5)


def _hands_minutes(growing: Growing) -> int:
    return sum(segment.minutes for step in growing.steps for segment in step.segments if segment.need is Need.HANDS)


def _set_dues(growing: Growing, days: int, tight: float) -> None:
    """Dues spread over the time the work takes, in the order the lots came, give or take a week."""
    orders = growing.orders
    for place, order in enumerate(orders):
        about = 4 + (days - 10) * place / len(orders) / 1.4 + growing.chance.uniform(-tight, 9 - tight)
        due = max(2, int(about)) * DAY + 17 * 60
        hard = growing.chance.random() < 0.15
        orders[place] = Order(order.id, order.steps, due, order.weight, hard)
