"""Oilings: pieces with one finish that go on the rack together of an evening."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby

from planner.making.batches import Batch, batch_of
from planner.making.company import DAY, are_as_urgent, in_company, member_at, spread
from planner.making.pace import Pace
from planner.making.pieces import Finish
from planner.making.routes import Together, finish_of
from planner.making.tracks import Track, must_stay_with

EVENING_MINUTES = 60
"""What one person oils in an evening."""
WINDOW = 3 * DAY
SPREAD = 4 * 60
"""Pieces that reach the rack more than half a working day after the first of them are oiled by themselves: oiling
together saves nothing but steps, and every piece waits for the last."""

Reaches = Callable[[Track, str], int]


def oilings(tracks: Sequence[Track], pace: Pace, reaches: Reaches, lots: Mapping[str, str]) -> Iterator[Batch]:
    """The pieces in oilings, as many in one as the rack, the evening and the oil's own clock allow.

    `reaches` says about when a piece is at a stage; `lots` in which lot it was before.
    """

    def apart(track: Track) -> tuple[str, str, str, str]:
        return track.apart, finish_of(track.piece.design).id, _first(track), must_stay_with(track, _first(track), lots)

    def agree(group: Sequence[Track]) -> bool:
        company = [members[each.id] for each in group]
        return spread(company) <= SPREAD and are_as_urgent(company, WINDOW)

    members = {each.id: member_at(each, _first(each), reaches(each, _first(each))) for each in tracks}
    for _, alike in groupby(sorted(tracks, key=apart), key=apart):
        by_urgency = sorted(alike, key=lambda track: members[track.id].latest)
        for group in in_company(by_urgency, agree, most_in_an_oiling(finish_of(by_urgency[0].piece.design), pace)):
            yield batch_of(Together.OILING, group)


def most_in_an_oiling(finish: Finish, pace: Pace) -> int:
    """So many pieces that one person puts the oil on and wipes it in an evening, that the rack takes them, and that
    the first, which soaks while the others are oiled, is still wiped before its oil goes tacky."""
    apply, wipe = max(1, finish.apply_minutes), max(1, finish.wipe_minutes)
    evening = min(EVENING_MINUTES, pace.usual_stretch("finish")) // max(apply, wipe)
    in_time = 1 + (finish.soak_most_minutes - finish.soak_least_minutes) // apply
    rack = pace.station("rack")
    return max(1, min(evening, in_time, rack.capacity if rack else evening))


def _first(track: Track) -> str:
    return track.stages(Together.OILING)[0].name
