"""Who may wait for whom: pieces come together for a stage only where that makes none of them late."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.making.tracks import Track

DAY = 24 * 60


@dataclass(frozen=True, slots=True)
class Member:
    """When a piece can be at a stage, how long it takes from there, and when it is due; elapsed minutes."""

    ready: int
    tail: int
    due: int


def may_go_together(members: Sequence[Member], *, within: int, patience: int = 0) -> bool:
    """Whether these pieces may do a stage together.

    Their dues lie `within` so many minutes of the most urgent one, and nobody waits for the slowest of them longer than
    `patience` who would then be late.
    """
    dues = [member.due for member in members]
    start = max(member.ready for member in members)
    return max(dues) - min(dues) <= within and not any(
        start > member.ready + patience and start + member.tail > member.due for member in members
    )


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
