"""True outlines laid in a zone: each where no-fit polygons leave room, as far left or as low as it goes.

The room for a piece is the zone's inside less, for each piece that lies there, all places in which the two would
overlap; the best corner of that room is taken. Method: R. Art, An Approach to the Two Dimensional Irregular Cutting
Stock Problem, IBM 1966; J. Bennell, J. Oliveira, The Geometry of Nesting Problems, EJOR 184 (2008) (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import rotate, translate

from planner.layout.grown import diameter_around, grown, no_fit
from planner.layout.panels import FREE_STEP_DEGREES, NestPiece
from planner.layout.rooms import Size
from planner.layout.tries import Tries

Lying = tuple[float, float, int]
"""x and y of the box's lower left corner, and the turn in degrees."""
Key = tuple[int, int]
"""Which shape, and its turn in degrees."""
Liking = Callable[[np.ndarray[Any, Any], Size], np.ndarray[Any, Any]]
TOUCH_IN = 2e-7
"""No-fit polygons are made this much smaller, so that a gap as wide as the piece isn't lost in rounding."""
MOST_TURNS = 4
MARK_IN = 1e-6
"""Outlines that differ by less are one shape."""
MANY = 25
"""With more pieces than this there are fewer tries."""
TRY_COSTS = 25
"""A try with outlines takes about as long as so many with rectangles."""


def _left_most(corners: np.ndarray[Any, Any], size: Size) -> np.ndarray[Any, Any]:
    return np.asarray((corners[:, 0] + size[0]) * 1e3 + corners[:, 1])


def _lowest(corners: np.ndarray[Any, Any], size: Size) -> np.ndarray[Any, Any]:
    return np.asarray((corners[:, 1] + size[1]) * 1e3 + corners[:, 0])


def _nearest_corner(corners: np.ndarray[Any, Any], size: Size) -> np.ndarray[Any, Any]:
    return np.asarray(corners[:, 0] + corners[:, 1] + 0.5 * (size[0] + size[1]))


LIKINGS: tuple[Liking, ...] = (_left_most, _lowest, _nearest_corner)


class Outlines:
    """The grown outlines of all pieces in all their turns, and where two of them overlap; alike shapes once."""

    def __init__(self, pieces: Sequence[NestPiece], spacing_in: float) -> None:
        self.pieces = pieces
        self.at: dict[Key, Polygon] = {}
        self.shape: list[int] = []
        self.turns: list[tuple[int, ...]] = []
        self._true: dict[Key, Polygon] = {}
        self._no_fits: dict[tuple[Key, Key], Polygon] = {}
        self.spacing_in = spacing_in
        self._steps = self._steps_between_turns()
        known: dict[tuple[bytes, tuple[int, ...]], int] = {}
        for number, piece in enumerate(pieces):
            mark = (shapely.to_wkb(shapely.set_precision(piece.rim, MARK_IN).normalize()), piece.degrees)
            shape = known.setdefault(mark, len(known))
            self.turns.append(self.turns[self.shape.index(shape)] if shape in self.shape else self._add(shape, number))
            self.shape.append(shape)

    def _add(self, shape: int, number: int) -> tuple[int, ...]:
        """Work out a shape in its turns; the turns that make a difference."""
        piece = self.pieces[number]
        kept: list[int] = []
        outline = grown(piece.rim, self.spacing_in, is_round=piece.is_round)
        for turn in piece.degrees:
            # Both turn about one point, so that what lies in the other keeps its place there.
            around, true = (rotate(each, turn, origin=(0, 0)) for each in (outline, piece.rim))
            left, low = around.bounds[:2]
            moved = translate(around, -left, -low)
            fine = turn % (FREE_STEP_DEGREES * self._steps) == 0
            if fine and not any(_are_alike(moved, self.at[shape, other]) for other in kept):
                kept.append(turn)
            self.at[shape, turn], self._true[shape, turn] = moved, translate(true, -left, -low)
        return tuple(kept)

    def _steps_between_turns(self) -> int:
        """One turn in so many is tried of shapes that turn freely: with many shapes the pairs of turns are too many."""
        free = {round(piece.area_in2, 6) for piece in self.pieces if len(piece.degrees) > MOST_TURNS}
        return 1 if len(free) <= 1 else 3 if len(free) <= MOST_TURNS else 6

    def true_size(self, number: int, turn: int) -> Size:
        """Length and width of the piece's own box when it is turned so."""
        left, low, right, high = self._true[self.shape[number], turn].bounds
        return right - left, high - low

    def area_in2(self, number: int) -> float:
        """The area of the grown outline."""
        return float(self.at[self.shape[number], self.turns[number][0]].area)

    def inner_corner(self, number: int, turn: int) -> Size:
        """How far the piece's own box begins inside that of its grown outline."""
        left, low = self._true[self.shape[number], turn].bounds[:2]
        return left, low

    def diameter(self, number: int) -> float:
        """The circle around a round piece."""
        return diameter_around(self.pieces[number].rim)

    def size(self, key: Key) -> Size:
        return self.at[key].bounds[2], self.at[key].bounds[3]

    def no_fit(self, fixed: Key, moving: Key) -> Polygon:
        """Where `moving` must not be for `fixed` at 0, 0."""
        pair = (fixed, moving)
        if pair not in self._no_fits:
            self._no_fits[pair] = no_fit(self.at[fixed], self.at[moving]).buffer(-TOUCH_IN, join_style="mitre")
        return self._no_fits[pair]


@dataclass
class _Zone:
    """What lies in the zone so far, and the room left for each shape and turn."""

    outlines: Outlines
    size: Size
    lying: list[tuple[Key, float, float]] = field(default_factory=list)
    rooms: dict[Key, tuple[int, Any]] = field(default_factory=dict)

    def corners(self, key: Key) -> np.ndarray[Any, Any]:
        """All corners of the room left for a shape."""
        done, room = self.rooms.get(key) or (0, self._empty_room(key))
        if done < len(self.lying) and room is not None and not room.is_empty:
            taken = [translate(self.outlines.no_fit(other, key), x, y) for other, x, y in self.lying[done:]]
            room = shapely.difference(room, shapely.union_all(taken) if len(taken) > 1 else taken[0])
        self.rooms[key] = (len(self.lying), room)
        return np.empty((0, 2)) if room is None else shapely.get_coordinates(room)

    def _empty_room(self, key: Key) -> Polygon | None:
        length, width = self.outlines.size(key)
        right, high = self.size[0] - length, self.size[1] - width
        if right < -TOUCH_IN or high < -TOUCH_IN:
            return None
        return shapely.box(0.0, 0.0, max(right, TOUCH_IN), max(high, TOUCH_IN))


def _are_alike(one: Polygon, other: Polygon) -> bool:
    return bool(shapely.equals_exact(one.normalize(), other.normalize(), 1e-9))


def fill_with_shapes(numbers: Sequence[int], outlines: Outlines, zone: Size, tries: Tries) -> dict[int, Lying]:
    """A place for as much as can be of the area of pieces, by number.

    `zone` is half the spacing larger all round than where pieces may lie; places are those of the pieces' own boxes,
    from the corner of where they may lie.
    """
    pieces = outlines.pieces
    tries = tries.fewer((MANY / len(numbers)) ** 2)
    order = sorted(numbers, key=lambda n: (-pieces[n].area_in2, outlines.shape[n], n))
    most = sum(pieces[n].area_in2 for n in numbers)
    best, best_value, value = {}, -1.0, -1.0
    for n in range(max(2 * len(LIKINGS), tries.count // TRY_COSTS)):
        first = n < 2 * len(LIKINGS)
        other = order if first else _changed(order, outlines, tries)
        liking = LIKINGS[n % len(LIKINGS)] if first else tries.rng.choice(LIKINGS)
        turns = _turns(outlines, None if first else tries, 2 if n < len(LIKINGS) else 99)
        found = _laid(other, outlines, zone, (liking, turns), tries.enough)
        now = sum(pieces[each].area_in2 for each in found)
        if now > best_value:
            best, best_value = found, now
        if now >= value * (1 - 0.01 * tries.rng.random()):
            order, value = other, now
        if best_value >= most - 1e-6 or tries.enough():
            break
    return {n: _of_true_box(n, lying, outlines) for n, lying in best.items()}


def _of_true_box(number: int, lying: Lying, outlines: Outlines) -> Lying:
    x, y, turn = lying
    along, across = outlines.inner_corner(number, turn)
    half = outlines.spacing_in / 2
    return x + along - half, y + across - half, turn


def _turns(outlines: Outlines, tries: Tries | None, most: int) -> dict[int, tuple[int, ...]]:
    """The turns each shape may have: along the grain, all, or some by chance, which makes nests more regular."""
    turns = dict(zip(outlines.shape, outlines.turns, strict=True))
    if tries is not None:
        return {shape: tuple(sorted(_some(all_turns, tries))) for shape, all_turns in turns.items()}
    return {
        shape: tuple(turn for turn in all_turns if turn % 180 == 0) if most == 2 else all_turns
        for shape, all_turns in turns.items()
    }


def _some(turns: Sequence[int], tries: Tries) -> list[int]:
    return tries.rng.sample(turns, min(len(turns), tries.rng.choice((1, 2, 2, MOST_TURNS))))


def _laid(
    order: Sequence[int],
    outlines: Outlines,
    zone: Size,
    way: tuple[Liking, Mapping[int, tuple[int, ...]]],
    enough: Callable[[], bool],
) -> dict[int, Lying]:
    """What lies when it is enough: no-fit polygons of many shapes alone may take longer than anyone waits."""
    liking, turns = way
    here = _Zone(outlines, zone)
    found: dict[int, Lying] = {}
    hopeless: set[int] = set()
    for number in order:
        shape = outlines.shape[number]
        if shape in hopeless:
            continue
        spots = []
        for turn in turns[shape]:
            if enough():
                return found
            corners = here.corners((shape, turn))
            if len(corners):
                liked = liking(corners, outlines.size((shape, turn)))
                at = int(np.argmin(liked))
                spots.append((float(liked[at]), float(corners[at, 0]), float(corners[at, 1]), turn))
        if not spots:
            hopeless.add(shape)
            continue
        _, x, y, turn = min(spots)
        found[number] = (x, y, turn)
        here.lying.append(((shape, turn), x, y))
    return found


def _changed(order: Sequence[int], outlines: Outlines, tries: Tries) -> list[int]:
    """Two pieces of different shapes change places, once or more."""
    other = list(order)
    for _ in range(tries.rng.choice((1, 2, 3))):
        one, two = tries.rng.randrange(len(other)), tries.rng.randrange(len(other))
        if outlines.shape[other[one]] != outlines.shape[other[two]]:
            other[one], other[two] = other[two], other[one]
    return other
