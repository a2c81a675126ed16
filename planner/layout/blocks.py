"""Rectangles with a side in common joined to blocks, and blocks to larger ones, until none can be joined.

What was cut from one panel with straight cuts goes together again that way, and pieces of one design make rows. It is
the bottom-up building of P. Y. Wang, Two Algorithms for Constrained Two-Dimensional Cutting Stock Problems, Operations
Research 31 (1983) (from memory), with chance in place of its lists, and only joints that waste nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from planner.layout.boxes import Box, Spot
from planner.layout.rooms import Size, goes_in

BUCKETS_PER_INCH = 73_105.858
"""Sides in one bucket are the same side. The odd number keeps fractions of an inch off the edges between buckets."""


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """A rectangle without waste: a single box, or two blocks side by side."""

    length: float
    width: float
    may_turn: bool
    number: int
    parts: tuple[tuple[Block, Spot], ...] = ()

    @property
    def box(self) -> Box:
        return self.length, self.width, self.may_turn

    def spots(self, spot: Spot) -> Iterator[tuple[int, Spot]]:
        """Where its boxes lie when it lies at `spot`."""
        x, y, turned = spot
        if not self.parts:
            yield self.number, spot
        for part, (along, across, part_turned) in self.parts:
            corner = (x + across, y + along) if turned else (x + along, y + across)
            yield from part.spots((*corner, turned != part_turned))


def singles(boxes: Sequence[Box]) -> list[Block]:
    """Each box as a block of its own."""
    return [Block(*box, number) for number, box in enumerate(boxes)]


def joined_at_random(blocks: Sequence[Block], zone: Size, rng: Random) -> list[Block]:
    """Blocks joined to larger ones that fit the zone: sides that few have in common first, small ones first, or so."""
    blocks = list(blocks)
    noise = rng.choice((0.0, 0.3, 1.0, 3.0))
    while len(blocks) > 1:
        pair = _pair(blocks, zone, rng, noise)
        if pair is None:
            break
        one, other, block = pair
        blocks = [each for each in blocks if each is not one and each is not other]
        blocks.append(block)
    return blocks


def taken_apart(blocks: Sequence[Block], rng: Random) -> list[Block]:
    """The blocks with some of them taken apart, some of these down to single boxes."""
    share, deep = rng.choice((0.2, 0.4, 0.7)), rng.choice((0.3, 0.6, 0.9))
    left = [block for block in blocks if block.parts and rng.random() < share]
    apart = [block for block in blocks if block not in left]
    while left:
        for part, _ in left.pop().parts:
            (left if part.parts and rng.random() < deep else apart).append(part)
    return apart


Sides = dict[tuple[bool, int], list[tuple[Block, bool]]]


def _pair(blocks: Sequence[Block], zone: Size, rng: Random, noise: float) -> tuple[Block, Block, Block] | None:
    sides = _sides(blocks)
    keys = [(len(users) * (1 + noise * rng.random()), rng.random(), key) for key, users in sides.items()]
    for _, _, key in sorted(keys):
        users = sorted(sides[key], key=lambda user: user[0].length * user[0].width * (1 + noise * rng.random()))
        for n, (one, one_turned) in enumerate(users[:4]):
            for other, other_turned in users[n + 1 : 5]:
                if one is other:
                    continue
                block = _joined(one, other, one_turned, other_turned, end_to_end=key[0])
                turned = (block.width, block.length)
                if goes_in((block.length, block.width), zone) or (block.may_turn and goes_in(turned, zone)):
                    return one, other, block
    return None


def _sides(blocks: Sequence[Block]) -> Sides:
    """Who could be joined end to end (True: by its width) or side by side (by its length), and turned or not."""
    sides: Sides = {}
    all_turn = all(block.may_turn for block in blocks)
    for block in blocks:
        length, width = round(block.length * BUCKETS_PER_INCH), round(block.width * BUCKETS_PER_INCH)
        sides.setdefault((True, width), []).append((block, False))
        if not all_turn:
            sides.setdefault((False, length), []).append((block, False))
        if block.may_turn and length != width:
            sides.setdefault((True, length), []).append((block, True))
            if not all_turn:
                sides.setdefault((False, width), []).append((block, True))
    return {key: users for key, users in sides.items() if len(users) > 1}


def _joined(one: Block, other: Block, one_turned: bool, other_turned: bool, *, end_to_end: bool) -> Block:
    length, width = _lying(one, one_turned)
    more, wide = _lying(other, other_turned)
    may_turn = one.may_turn and other.may_turn
    first = (one, (0.0, 0.0, one_turned))
    if end_to_end:
        return Block(length + more, max(width, wide), may_turn, -1, (first, (other, (length, 0.0, other_turned))))
    return Block(max(length, more), width + wide, may_turn, -1, (first, (other, (0.0, width, other_turned))))


def _lying(block: Block, turned: bool) -> Size:
    return (block.width, block.length) if turned else (block.length, block.width)
