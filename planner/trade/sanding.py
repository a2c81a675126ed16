"""Grits: how coarse each is, and whether a sequence leaves scratches that the next grit can't take out."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from re import findall

from planner.errors import PlannerError
from planner.trade.amounts import above_zero

GRAIN_UM = {
    40: 425.0, 60: 269.0, 80: 201.0, 100: 162.0, 120: 125.0, 150: 100.0,
    180: 82.0, 220: 68.0, 240: 58.5, 280: 52.2, 320: 46.2, 400: 35.0,
}  # fmt: skip
"""Mean grain of P grits in micrometres. Source: FEPA 43 / ISO 6344 (from memory)."""
MOST_RATIO = 2.0
"""A grit takes out scratches up to twice as coarse as its own. Sources disagree, from one grade to doubling."""


def grits_in(text: str) -> tuple[int, ...]:
    """The grits that somebody wrote down, coarsest first as they are used. Raises PlannerError for one not known here.

    >>> grits_in("P120, 180 and 220")
    (120, 180, 220)
    """
    grits = tuple(int(each) for each in findall(r"\d{1,5}", text))
    grain_ratios(grits)
    return grits


def grain_ratios(grits: Sequence[int]) -> tuple[float, ...]:
    """How many times coarser each grit is than the next. Raises PlannerError for a grit that is not known here."""
    for grit in grits:
        if grit not in GRAIN_UM:
            raise PlannerError(f"P{grit} is no grit known here; known are {', '.join(map(str, GRAIN_UM))}.")
    return tuple(GRAIN_UM[before] / GRAIN_UM[after] for before, after in pairwise(grits))


def grit_findings(grits: Sequence[int], most_ratio: float = MOST_RATIO) -> tuple[str, ...]:
    """A sentence for every step of a sequence that goes back or jumps too far."""
    above_zero("most times that a grit may be coarser than the next", most_ratio)
    said = []
    for (before, after), ratio in zip(pairwise(grits), grain_ratios(grits), strict=True):
        if ratio <= 1:
            said.append(f"P{after} is not finer than P{before}.")
        elif ratio > most_ratio:
            said.append(f"From P{before} to P{after} is too far: the scratches stay; put a grit between.")
    return tuple(said)
