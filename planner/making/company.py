"""Who may wait for whom: pieces come together for a stage only where none is held up for the others' sake."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.making.tracks import Track

DAY = 24 * 60


LEAST_WINDOW = DAY
SLACK_SHARE = 0.5
"""Less urgent pieces keep an urgent one from going on no longer than this share of what it has to spare."""


@dataclass(frozen=True, slots=True)
class Member:
    """When a piece can be at a stage, and when it must be there to be in time; elapsed minutes."""

    ready: int
    latest: int

    @property
    def slack(self) -> int:
        return self.latest - self.ready


def member_at(track: Track, stage: str, ready: int) -> Member:
    """A piece that can be at that stage at `ready`."""
    return Member(ready, track.due - track.tail(stage))


def are_as_urgent(members: Sequence[Member], within: int) -> bool:
    """Whether none is so much less urgent than the most urgent one that it would only keep it from going on.

    They may differ by `within` minutes at most, by less where the most urgent one has little to spare; a day is always
    allowed.
    """
    first = min(members, key=lambda member: member.latest)
    window = min(within, max(LEAST_WINDOW, SLACK_SHARE * first.slack))
    return all(member.latest <= first.latest + window for member in members)


def none_waits_in_vain(members: Sequence[Member]) -> bool:
    """Whether none waits for the slowest that has less than a day to spare then; nights make up the day."""
    start = max(member.ready for member in members)
    return all(start <= max(member.ready, member.latest - DAY) for member in members)


def spread(members: Sequence[Member]) -> int:
    """How long the first waits for the last."""
    ready = [member.ready for member in members]
    return max(ready) - min(ready)


def in_company(tracks: Sequence[Track], agree: Callable[[Sequence[Track]], bool], most: int) -> list[list[Track]]:
    """Groups of at most `most`: each begins with the first piece left and takes all further ones that agree with it."""
    left, groups = list(tracks), []
    while left:
        group, rest = left[:1], left[:0]
        for track in left[1:]:
            (group if len(group) < most and agree([*group, track]) else rest).append(track)
        groups.append(group)
        left = rest
    return groups


def in_even_parts(tracks: Sequence[Track], most: int) -> list[list[Track]]:
    """The pieces in their order, in as few parts as `most` a part allows, all about equally large."""
    count = -(-len(tracks) // max(1, most))
    ends = [len(tracks) * part // count for part in range(count + 1)]
    return [list(tracks[start:end]) for start, end in pairwise(ends)]
