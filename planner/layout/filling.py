"""One panel filled: by boxes, by outlines and, where there are rounds, in rows; the fullest is kept."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from math import pi, sqrt

from planner.layout.boxes import Box, Spot, fill_rooms
from planner.layout.panels import NestPiece, PanelRules, PanelSize
from planner.layout.rectangles import RULES, fill_with_boxes
from planner.layout.rooms import Size, goes_in
from planner.layout.rows import round_rows
from planner.layout.shapes import Lying, Outlines, fill_with_shapes
from planner.layout.tries import Tries

LEAST_SHARE = 0.1
Filling = dict[int, Lying]
"""Where pieces lie by number: the box's lower left corner from the corner inside the margins, and the turn."""


class Filler:
    """All pieces of a nest, what was worked out of their outlines, and how a panel is filled with some of them."""

    def __init__(self, pieces: Sequence[NestPiece], rules: PanelRules, tries: Tries) -> None:
        self.pieces = pieces
        self.large_first = 0.0
        """How much more a square inch of the largest piece counts than one of the smallest, as a share."""
        self._rules = rules
        self._most_in2 = max((piece.area_in2 for piece in pieces), default=1.0)
        self._tries = tries
        self._gap = rules.spacing_in
        self._outlines: Outlines | None = None

    @property
    def is_enough(self) -> bool:
        return self._tries.enough()

    def fits(self, number: int, size: PanelSize) -> bool:
        """Whether a piece fits the empty panel in any of the turns that are tried."""
        return self._turn_that_fits(number, self._rules.zone(size)) is not None

    def fill(self, numbers: Sequence[int], size: PanelSize, share: float = 1.0) -> Filling:
        """Where to lay as much as can be of the pieces `numbers` on a panel, with a share of the tries."""
        zone = self._rules.zone(size)
        numbers = [number for number in numbers if self.fits(number, size)]
        best: Filling = {}
        most = self._worth(numbers)
        for filling in self._ways(numbers, zone, self._tries.fewer(share)) if numbers else ():
            if self._worth(filling) > self._worth(best):
                best = filling
            if self._worth(best) >= most * (1 - 1e-9):
                break
        return best or self._one_alone(numbers, zone)

    def reach(self, filling: Filling) -> Size:
        """How far the pieces of a filling reach along and across, inside the margins."""
        ends = [(x + size[0], y + size[1]) for n, (x, y, turn) in filling.items() for size in [self.size(n, turn)]]
        return max(end[0] for end in ends), max(end[1] for end in ends)

    def size(self, number: int, turn: int) -> Size:
        """Length and width of a piece's box when it lies turned so."""
        piece = self.pieces[number]
        if turn % 180 == 0:
            return piece.size
        return piece.size[::-1] if turn % 90 == 0 else self._all_outlines.true_size(number, turn)

    def _worth(self, numbers: Iterable[int]) -> float:
        return sum(self._counts(number) for number in numbers)

    def _counts(self, number: int) -> float:
        return self.pieces[number].area_in2 * (1 + self.large_first * self.pieces[number].area_in2 / self._most_in2)

    def room_needed(self, numbers: Sequence[int]) -> float:
        """About how much the pieces take of a zone that is half the spacing larger all round, as their outlines are."""
        return sum(self._room(number) for number in numbers)

    def room_in(self, size: PanelSize) -> float:
        """How much of it a panel has."""
        length, width = self._grown(self._rules.zone(size))
        return length * width

    def _room(self, number: int) -> float:
        length, width, _ = self._box(number)
        if self.pieces[number].is_box:
            return length * width
        # Rounds never lie closer than in hexagonal rows.
        room = self._all_outlines.area_in2(number)
        return room * sqrt(12) / pi if self.pieces[number].is_round else room

    def _ways(self, numbers: Sequence[int], zone: Size, tries: Tries) -> Iterator[Filling]:
        yield from self._in_rows(numbers, zone)
        boxes = sum(self.pieces[number].is_box for number in numbers)
        # Where most are no boxes, their boxes waste wood: less time for that.
        yield self._by_boxes(numbers, zone, tries.fewer(max(boxes / len(numbers), LEAST_SHARE)))
        if boxes < len(numbers):
            yield self._by_outlines(numbers, zone, tries)

    def _box(self, number: int) -> Box:
        """A piece's box with the spacing, and whether its design lets it lie turned a quarter."""
        length, width = self.pieces[number].size
        return length + self._gap, width + self._gap, self.pieces[number].may_turn(90)

    def _grown(self, zone: Size) -> Size:
        return zone[0] + self._gap, zone[1] + self._gap

    def _by_boxes(self, numbers: Sequence[int], zone: Size, tries: Tries) -> Filling:
        boxes = [self._box(number) for number in numbers]
        worth = [self._counts(number) for number in numbers]
        spots = fill_with_boxes(boxes, worth, self._grown(zone), tries)
        return {numbers[n]: _quarter(spot) for n, spot in spots.items()}

    def _by_outlines(self, numbers: Sequence[int], zone: Size, tries: Tries) -> Filling:
        return fill_with_shapes(numbers, self._all_outlines, self._grown(zone), tries)

    def _in_rows(self, numbers: Sequence[int], zone: Size) -> Iterator[Filling]:
        """Rounds of one diameter in rows first, the rest in the rooms that are left, for each diameter."""
        alike: dict[float, list[int]] = defaultdict(list)
        for number in numbers:
            if self.pieces[number].is_round:
                alike[round(self._all_outlines.diameter(number), 9)].append(number)
        room = self._grown(zone)
        boxes = {number: self._box(number) for number in numbers}
        for diameter, rounds in sorted(alike.items()):
            spots: dict[int, Spot] = {}
            for number, (x, y) in zip(rounds, round_rows(diameter + self._gap, room, len(rounds)), strict=False):
                length, width = self.pieces[number].size
                spots[number] = (x + (diameter - length) / 2, y + (diameter - width) / 2, False)
            order = sorted(set(numbers) - set(spots), key=lambda n: (-self.pieces[n].area_in2, n))
            by_number = [boxes.get(number, (0.0, 0.0, False)) for number in range(len(self.pieces))]
            for rule in RULES if order else RULES[:1]:
                filled = fill_rooms(by_number, order, room, rule, spots)
                yield {number: _quarter(spot) for number, spot in filled.items()}

    def _turn_that_fits(self, number: int, zone: Size) -> int | None:
        turns = self.pieces[number].degrees
        return next((turn for turn in turns if goes_in(self.size(number, turn), zone)), None)

    def _one_alone(self, numbers: Sequence[int], zone: Size) -> Filling:
        """The first piece by itself: it fits so tightly or so askew that no way of filling found it a place."""
        turns = ((number, self._turn_that_fits(number, zone)) for number in numbers)
        return next(({number: (0.0, 0.0, turn)} for number, turn in turns if turn is not None), {})

    @property
    def _all_outlines(self) -> Outlines:
        if self._outlines is None:
            self._outlines = Outlines(self.pieces, self._gap)
        return self._outlines


def _quarter(spot: Spot) -> Lying:
    return spot[0], spot[1], 90 if spot[2] else 0
