"""What joins steps: the waits between them, and the places kept occupied from one to another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping

from planner.making.blanks import clamps_for
from planner.making.pace import Pace
from planner.making.routes import again
from planner.making.tracks import Track
from planner.parts import Hold, Link, Wait

At = Mapping[tuple[str, str], str]
"""(piece, stage) -> the id of the step that does it."""

MOST_COATS = 20
HOLDS = (
    ("clamps", "glue", "unclamp"),
    *(("rack", again("oil", coat), again("wipe", coat)) for coat in range(1, MOST_COATS + 1)),
)
"""A place of the role is occupied from the start of one stage until the end of another."""


def links_of(tracks: Iterable[Track], at: At, margin: int) -> Iterator[Link]:
    """One link for each pair of steps; pieces that rest by other windows don't share both of them.

    Windows shut `margin` minutes early, so that work that goes on a little longer is still in time.
    """
    waits = {pair: wait for track in tracks for pair, wait in _waits(track, at)}
    return (_link(before, after, wait, margin) for (before, after), wait in waits.items())


def holds_of(tracks: Iterable[Track], at: At, pace: Pace, over: Collection[str]) -> Iterator[Hold]:
    """A hold for each glue-up still in clamps or to come, and for each oiling on the rack; none for steps `over`."""
    tracks = list(tracks)
    for role, first, last in HOLDS:
        station = pace.station(role)
        for (begins, ends), load in _loads(tracks, at, role, first, last).items() if station else ():
            if station and ends not in over:
                yield Hold(station.id, min(load, station.capacity), begins, ends)


def _link(before: str, after: str, wait: Wait, margin: int) -> Link:
    """A window too short for the margin, of which less than the margin would be left, keeps its own end."""
    least, most = wait
    if most is None or most - least < 2 * margin:
        return Link(before, after, least, most)
    return Link(before, after, least, most - margin, margin=margin)


def _waits(track: Track, at: At) -> Iterator[tuple[tuple[str, str], Wait]]:
    for (before, after), wait in track.waits.items():
        if track.has(after) and (track.id, before) in at:
            yield (at[track.id, before], at[track.id, after]), wait


def _loads(tracks: Iterable[Track], at: At, role: str, first: str, last: str) -> Counter[tuple[str, str]]:
    loads: Counter[tuple[str, str]] = Counter()
    for track in tracks:
        if (track.id, first) in at and (track.id, last) in at:
            taken = clamps_for(track.piece.design) if role == "clamps" else 1
            loads[at[track.id, first], at[track.id, last]] += taken
    return loads
