"""Rectangles laid in a zone so that as much as can be of them lies there: several methods, the best answer kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, floor

from planner.layout.blocks import Block, joined_at_random, singles, taken_apart
from planner.layout.boxes import Box, Spot, fill_rooms
from planner.layout.rooms import HAIR_IN, Rule, Size, area_fit, left_most, lower_left, short_side_fit
from planner.layout.skyline import fill_hollows
from planner.layout.tries import Tries

RULES: tuple[Rule, ...] = (short_side_fit, lower_left, left_most, area_fit)
RESTART = 20
"""Blocks are built from scratch again after so many tries."""
MANY = 50
"""With more boxes than this a try takes longer, as their square, and there are fewer of them."""
Spots = dict[int, Spot]


def fill_with_boxes(boxes: Sequence[Box], worth: Sequence[float], zone: Size, tries: Tries) -> Spots:
    """A spot in the zone for as much as can be of the boxes, counted by what each is worth.

    Lengths in one unit, the corner of the zone at 0, 0; boxes may touch. The answer depends on its arguments and on
    what `tries` draws.
    """
    tries = tries.fewer((MANY / max(1, len(boxes))) ** 2)
    best = _Best(worth, _most_worth(boxes, worth, zone))
    if boxes:
        _in_order(boxes, zone, best)
    for step in (_by_blocks, _by_search):
        if not best.is_full:
            step(boxes, zone, best, tries)
    return best.spots


class _Best:
    """The best answer so far, and whether there can be none better."""

    def __init__(self, worth: Sequence[float], most: float) -> None:
        self.worth = worth
        self._most = most
        self.value = -1.0
        self.spots: Spots = {}

    def take(self, spots: Spots) -> float:
        """Keep an answer if it is the best so far; its value."""
        value = self.value_of(spots)
        if value > self.value + HAIR_IN:
            self.value, self.spots = value, spots
        return value

    def value_of(self, spots: Spots) -> float:
        return sum(self.worth[number] for number in spots)

    @property
    def is_full(self) -> bool:
        return self.value >= self._most - HAIR_IN


def _most_worth(boxes: Sequence[Box], worth: Sequence[float], zone: Size) -> float:
    """More than this cannot lie in the zone."""
    if len(set(boxes)) == 1 and not (boxes[0][2] and boxes[0][0] != boxes[0][1]):
        length, width, _ = boxes[0]
        in_a_grid = floor((zone[0] + HAIR_IN) / length) * floor((zone[1] + HAIR_IN) / width)
        return sum(sorted(worth, reverse=True)[:in_a_grid])
    return min(sum(worth), _room_worth(boxes, worth, zone))


def _room_worth(boxes: Sequence[Box], worth: Sequence[float], zone: Size) -> float:
    """The most that so much room can hold, were it all filled with what is worth most for its size."""
    room, value = zone[0] * zone[1], 0.0
    for number in sorted(range(len(boxes)), key=lambda n: -worth[n] / (boxes[n][0] * boxes[n][1])):
        area = boxes[number][0] * boxes[number][1]
        share = min(1.0, room / area)
        value += share * worth[number]
        room -= share * area
    return value


def _orders(boxes: Sequence[Box], worth: Sequence[float]) -> list[list[int]]:
    """What is worth most for its room first, and the largest first in several senses of the word."""
    dense = sorted(range(len(boxes)), key=lambda n: (-worth[n] / (boxes[n][0] * boxes[n][1]), n))
    keys: tuple[Callable[[Box], tuple[float, float]], ...] = (
        lambda box: (-box[0] * box[1], -max(box[:2])),
        lambda box: (-max(box[:2]), -min(box[:2])),
        lambda box: (-min(box[:2]), -max(box[:2])),
        lambda box: (-box[0], -box[1]),
        lambda box: (-box[1], -box[0]),
    )
    return [*(_sorted(boxes, key) for key in keys), dense]


def _sorted(boxes: Sequence[Box], key: Callable[[Box], tuple[float, float]]) -> list[int]:
    return sorted(range(len(boxes)), key=lambda n: (key(boxes[n]), n))


def _in_order(boxes: Sequence[Box], zone: Size, best: _Best) -> None:
    for order in _orders(boxes, best.worth):
        for rule in RULES:
            best.take(fill_rooms(boxes, order, zone, rule))
            if best.is_full:
                return
        best.take(fill_hollows(boxes, order, zone))


def _by_blocks(boxes: Sequence[Box], zone: Size, best: _Best, tries: Tries) -> None:
    """Blocks built by chance; now and then from scratch, else from the fewest so far with some of them taken apart."""
    rng = tries.rng
    fewest = singles(boxes)
    for n in tries.all:
        start = singles(boxes) if n % RESTART == 0 else taken_apart(fewest, rng)
        blocks = joined_at_random(start, zone, rng)
        if n % RESTART == 0 or len(blocks) <= len(fewest):
            fewest = blocks
        best.take(_laid(blocks, zone, rng.choice(RULES)))
        if best.is_full or len(blocks) == len(boxes) or tries.enough():
            return


def _laid(blocks: Sequence[Block], zone: Size, rule: Rule) -> Spots:
    """The blocks laid largest first; those that find no room are taken apart and tried again."""
    laid: list[tuple[Block, Spot]] = []
    left = list(blocks)
    while left:
        left.sort(key=lambda block: -block.length * block.width)
        all_boxes = [block.box for block, _ in laid] + [block.box for block in left]
        spots = fill_rooms(
            all_boxes, range(len(laid), len(all_boxes)), zone, rule, {n: spot for n, (_, spot) in enumerate(laid)}
        )
        numbered = [block for block, _ in laid] + left
        without = [block for n, block in enumerate(numbered) if n not in spots]
        laid = [(numbered[n], spot) for n, spot in spots.items()]
        left = [part for block in without for part, _ in block.parts]
        if not any(block.parts for block in without):
            break
    return {number: spot for block, at in laid for number, spot in block.spots(at)}


def _by_search(boxes: Sequence[Box], zone: Size, best: _Best, tries: Tries) -> None:
    """Orders changed a little at a time; a worse one is gone on from the less often, the worse and later (annealing).

    Lengths and widths are also laid the other way round, so that hollows fill from the left instead of from below.
    """
    rng, whole = tries.rng, zone[0] * zone[1]
    for way in (False, True):
        lying = [(box[1], box[0], box[2]) for box in boxes] if way else list(boxes)
        room = (zone[1], zone[0]) if way else zone
        orders = _orders(lying, best.worth)
        order = max(orders, key=lambda each: best.value_of(fill_hollows(lying, each, room)))
        value = best.value_of(fill_hollows(lying, order, room))
        rounds = tries.all
        for n in rounds:
            other = _changed(order, tries)
            spots = fill_hollows(lying, other, room)
            now = best.take({k: (y, x, turned) for k, (x, y, turned) in spots.items()} if way else spots)
            heat = 0.02 * whole * (1 - n / len(rounds)) + 1e-9
            if now >= value or rng.random() < exp((now - value) / heat):
                order, value = other, now
            if best.is_full or tries.enough():
                return


def _changed(order: Sequence[int], tries: Tries) -> list[int]:
    other = list(order)
    if len(other) > 1:
        for _ in range(tries.rng.choice((1, 1, 2, 3))):
            one, two = tries.rng.randrange(len(other)), tries.rng.randrange(len(other))
            if tries.rng.random() < 0.5:
                other[one], other[two] = other[two], other[one]
            else:
                other.insert(two, other.pop(one))
    return other
