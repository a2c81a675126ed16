"""Designs ranked by what they bring in per hour of what there is least of.

The scarcest station is the one whose hours the plan fills most. What a piece brings in over what it uses up, per minute
there, is what decides (Goldratt, The Haystack Syndrome, 1990); with two scarce stations only a program over both is
right, which is what `foresight.mix` is for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planner.trade.amounts import a_number, not_below_zero

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class StationLoad:
    """Minutes that the plan uses of a station, and minutes it is open, over the same days."""

    used_minutes: float
    open_minutes: float

    def __post_init__(self) -> None:
        not_below_zero("time used of a station in minutes", self.used_minutes)
        not_below_zero("time a station is open in minutes", self.open_minutes)

    @property
    def share(self) -> float:
        """How full it is; a station that is never open and yet needed is the fullest."""
        if self.open_minutes > 0:
            return self.used_minutes / self.open_minutes
        return float("inf") if self.used_minutes > 0 else 0.0


@dataclass(frozen=True, slots=True)
class RankRow:
    """A design: what it brings in over what it uses up (dollars a piece), its profit, its minutes at each station."""

    id: str
    name: str
    throughput_dollars: Decimal
    profit_dollars: Decimal
    minutes: Mapping[str, Decimal]

    def __post_init__(self) -> None:
        a_number(f"throughput of {self.name}", self.throughput_dollars)
        a_number(f"profit of {self.name}", self.profit_dollars)
        for station, minutes in self.minutes.items():
            not_below_zero(f"time of {self.name} at {station} in minutes", minutes)


@dataclass(frozen=True, slots=True)
class Ranked:
    """A design in its place. `dollars_an_hour` is None where it takes nothing of the scarcest station."""

    row: RankRow
    dollars_an_hour: Decimal | None

    @property
    def is_worth_making(self) -> bool:
        """At its price it pays for everything, hands at their wages included."""
        return self.row.profit_dollars >= 0


@dataclass(frozen=True, slots=True)
class Ranking:
    """The scarcest station (None where no station has a load) and all designs, the best use of its hours first."""

    scarcest: str | None
    rows: tuple[Ranked, ...]


def rank_by_scarcest(rows: Sequence[RankRow], loads: Mapping[str, StationLoad]) -> Ranking:
    """Designs that take none of the scarcest station come first: they cost nothing of what is scarce."""
    used = {name: load for name, load in loads.items() if load.used_minutes > 0}
    scarcest = max(used, key=lambda name: (used[name].share, name), default=None)
    ranked = [Ranked(row, _an_hour(row, scarcest)) for row in rows]
    ranked.sort(key=lambda each: (each.dollars_an_hour is not None, -(each.dollars_an_hour or 0), each.row.name))
    return Ranking(scarcest, tuple(ranked))


def _an_hour(row: RankRow, station: str | None) -> Decimal | None:
    minutes = row.minutes.get(station, Decimal(0)) if station else sum(row.minutes.values(), Decimal(0))
    return (row.throughput_dollars * 60 / minutes).quantize(CENT, ROUND_HALF_UP) if minutes else None
