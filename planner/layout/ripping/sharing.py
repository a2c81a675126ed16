"""Which panel takes how wide strips of which section: many quick tries, each laying panel beside panel.

Where a panel ends inside a section the next one goes on there, so that every panel costs one strip more than the
sections do; where some sections are just as wide as a panel, none.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement
from random import Random
from typing import NamedTuple

from planner.layout.cutting.deadline import Deadline
from planner.layout.ripping.bench import Bench, Class, Section, Wood
from planner.layout.ripping.widths import Widths, nm

SECONDS_FOR_FEWER_STRIPS = 0.3
MOST_KINDS_IN_THREES = 16
MATCHED = (0.0, 0.3, 0.6, 1.0)
"""How likely a panel looks first for sections that are together just as wide, from try to try."""
AN_UNTOUCHED_SECTION = nm(0.3)
LESS_THAN_A_SECTION_GIVES = nm(0.25)
BY_CHANCE = nm(0.25)
"""What choices are weighed by, as widths that are lost."""


class Share(NamedTuple):
    """What a section gives to one panel: finished widths of strips in nanometres."""

    section: Section
    place: int
    """Which of the sections."""
    panel: int
    """Which of the panels, each copy by itself."""
    widths: Widths


class Cut(NamedTuple):
    """A strip for a panel out of what is left of a section."""

    place: int
    panel: int
    width: int


class Rest(NamedTuple):
    """What is left of some section across, a kerf beyond its edge counted in, and whether a strip was taken of it."""

    own: Class
    full: int
    """Width of the whole section."""
    room: int


def shared_out(bench: Bench, sections: Sequence[Section], deadline: Deadline) -> list[Share] | None:
    """Every panel's strips, as few as were found; None where no try had wood enough for all."""
    rng = Random(0)  # noqa: S311
    best: list[Cut] | None = None
    while deadline.left():
        cuts = _Try(bench, sections, rng).cuts()
        if cuts is not None and (best is None or len(cuts) < len(best)):
            deadline = deadline if best else Deadline(min(deadline.left(), SECONDS_FOR_FEWER_STRIPS))
            best = cuts
    return None if best is None else list(_shares(sections, best))


def _shares(sections: Sequence[Section], cuts: Sequence[Cut]) -> Iterator[Share]:
    """Strips of one section for one panel are equally wide."""
    widths: dict[tuple[int, int], list[int]] = defaultdict(list)
    for cut in cuts:
        widths[cut.place, cut.panel].append(cut.width)
    for (place, panel), own in widths.items():
        parts = tuple(sum(own) // len(own) + (number < sum(own) % len(own)) for number in range(len(own)))
        yield Share(sections[place], place, panel, parts)


class _Try:
    """One try: panels in an order drawn by lot, the longest and thickest first, each from the rests that lose least."""

    def __init__(self, bench: Bench, sections: Sequence[Section], rng: Random) -> None:
        self.bench, self.rng = bench, rng
        self.rests: dict[Rest, list[int]] = defaultdict(list)
        for place, each in enumerate(sections):
            rest = Rest(Class(each.length, each.thickness), each.width, each.width + bench.kerf)
            self.rests[rest].append(place)
        self.narrowest = min(wood.narrowest for wood in bench.wood)
        self.matched = rng.choice(MATCHED)
        self.found: list[Cut] = []

    def cuts(self) -> list[Cut] | None:
        wide_first = self.rng.random() < 0.5
        order = sorted(
            range(len(self.bench.wood)),
            key=lambda panel: self._turn(self.bench.wood[panel], wide_first=wide_first),
        )
        for panel in order:
            wood = self.bench.wood[panel]
            if wood.strips:
                is_made = all(self._strip(panel, wood, wood.narrowest) for _ in range(wood.strips))
            else:
                is_made = self._matched(panel, wood) or self._laid(panel, wood)
            if not is_made:
                return None
        return self.found

    def _turn(self, wood: Wood, *, wide_first: bool) -> tuple[int, int, bool, float]:
        by_lot = self.rng.random()
        return -wood.own.thickness, -wood.own.length, wood.strips is None, by_lot * nm(4) - wood.width * wide_first

    def _matched(self, panel: int, wood: Wood) -> bool:
        """Untouched sections that are together as wide as the panel or less than a strip's loss wider."""
        if self.rng.random() >= self.matched:
            return False
        fit = {
            rest: self.bench.widest_of(rest.full, wood)
            for rest, places in self.rests.items()
            if places and rest.room == rest.full + self.bench.kerf and rest.own.serves(wood.own)
        }
        groups = [
            (sum(fit[rest] for rest in group) - wood.width + self.rng.randrange(self.bench.loss + 1), group)
            for group in _groups([rest for rest, widest in fit.items() if widest])
            if 0 <= sum(fit[rest] for rest in group) - wood.width < self.bench.loss and self._are_there(group)
        ]
        if not groups:
            return False
        _, group = min(groups)
        beyond = sum(fit[rest] for rest in group) - wood.width
        for rest in group:
            less = min(beyond, fit[rest] - wood.narrowest)
            beyond -= less
            self._take(rest, panel, fit[rest] - less)
        return True

    def _are_there(self, group: Sequence[Rest]) -> bool:
        return all(len(self.rests[rest]) >= count for rest, count in Counter(group).items())

    def _laid(self, panel: int, wood: Wood) -> bool:
        """Strip by strip until the panel is as wide as it is to be."""
        width = wood.width
        while width:
            taken = self._strip(panel, wood, width)
            if not taken:
                return False
            width -= taken
        return True

    def _strip(self, panel: int, wood: Wood, width: int) -> int:
        """The width of the next strip, 0 where no rest gives one."""
        found = [
            (self._lost(rest, wood, strip, width), rest, strip)
            for rest, places in self.rests.items()
            if places and rest.own.serves(wood.own) and (strip := self._strip_of(rest, wood, width))
        ]
        if not found:
            return 0
        _, rest, strip = min(found)
        self._take(rest, panel, strip)
        return strip

    def _strip_of(self, rest: Rest, wood: Wood, width: int) -> int:
        """As wide as may be, with nothing or a strip's least left of the panel; 0 where that is too narrow."""
        widest = self.bench.widest_of(rest.room - self.bench.kerf, wood)
        if widest >= width:
            return width
        strip = min(widest, width - wood.narrowest)
        return strip if strip >= wood.narrowest and not wood.strips else 0

    def _lost(self, rest: Rest, wood: Wood, strip: int, width: int) -> float:
        left = rest.room - strip - self.bench.loss
        lost = float(left if left < self.narrowest + self.bench.loss else 0)
        if rest.room == rest.full + self.bench.kerf:
            lost += AN_UNTOUCHED_SECTION
        if strip < min(width, self.bench.widest_of(rest.room - self.bench.kerf, wood)):
            lost += LESS_THAN_A_SECTION_GIVES
        longer, thicker = rest.own.length - wood.own.length, rest.own.thickness - wood.own.thickness
        return lost + self.rng.random() * BY_CHANCE + longer / 100 + thicker / 10

    def _take(self, rest: Rest, panel: int, strip: int) -> None:
        place = self.rests[rest].pop()
        self.found.append(Cut(place, panel, strip))
        left = rest._replace(room=rest.room - strip - self.bench.loss)
        if left.room >= self.narrowest + self.bench.loss:
            self.rests[left].append(place)


def _groups(rests: Sequence[Rest]) -> Iterator[tuple[Rest, ...]]:
    for count in (1, 2, 3) if len(rests) <= MOST_KINDS_IN_THREES else (1, 2):
        yield from combinations_with_replacement(rests, count)
