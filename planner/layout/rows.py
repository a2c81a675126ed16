"""Rounds of one diameter in rows: below each other, in the hollows of the row before, or something of both."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, sqrt

from planner.layout.rooms import HAIR_IN, Size

Corner = tuple[float, float]


def round_rows(diameter: float, zone: Size, wanted: int) -> list[Corner]:
    """The lower left corners of the boxes of rounds in rows in a zone, `wanted` of them or as many as there can be.

    Rounds may touch. Rows run along the zone or across it, whichever holds more; of patterns that hold `wanted` the one
    that reaches the least far along the zone is taken.

    >>> len(round_rows(1.0, (4.0, 4.0), 99)), len(round_rows(1.0, (10.0, 10.0), 199))
    (16, 106)
    """
    if wanted < 1 or min(zone) < diameter - HAIR_IN:
        return []
    along = [_corners(rows) for rows in _patterns(diameter, zone)]
    across = [[(y, x) for x, y in _corners(rows)] for rows in _patterns(diameter, (zone[1], zone[0]))]
    held = [sorted(corners)[:wanted] for corners in along + across]
    return min(held, key=lambda corners: (-len(corners), corners[-1]))


Row = tuple[float, float, int, float]
"""Where a row begins, its height, how many lie in it and how far it is from one to the next."""


def _corners(rows: list[Row]) -> list[Corner]:
    return [(x + n * pitch, y) for x, y, count, pitch in rows for n in range(count)]


def _patterns(diameter: float, zone: Size) -> Iterator[list[Row]]:
    length, width = zone[0] + HAIR_IN, zone[1] + HAIR_IN
    count = floor(length / diameter)
    # Every row full, each other one moved by what is to spare: rows come as near as that lets them.
    shift = min(max(zone[0] - count * diameter, 0.0), diameter / 2)
    near = sqrt(diameter**2 - shift**2)
    rows = floor((width - diameter) / near) + 1
    yield [(n % 2 * shift, n * near, count, diameter) for n in range(rows)]
    if count == 1:
        return
    # Each other row holds one less and lies in the hollows; rounds closed up, or spread over the whole length.
    for pitch in (diameter, (zone[0] - diameter) / (count - 1)):
        if diameter - HAIR_IN <= pitch <= sqrt(3) * diameter:  # farther apart, a row would reach the next but one
            yield from _in_hollows(diameter, width, count, pitch)


def _in_hollows(diameter: float, width: float, count: int, pitch: float) -> Iterator[list[Row]]:
    """Full and short rows in turn and, where there is width to spare, full rows straight below full ones."""
    near = sqrt(diameter**2 - pitch**2 / 4)
    for straight in range(floor((width - diameter) / diameter) + 1):
        low = straight * diameter
        rows: list[Row] = [(0.0, n * diameter, count, pitch) for n in range(straight + 1)]
        for n in range(1, floor((width - diameter - low) / near) + 1):
            short = n % 2
            rows.append((pitch / 2 * short, low + n * near, count - short, pitch))
        yield rows
