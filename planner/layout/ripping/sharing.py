"""Which panel takes how wide strips of which section: panels are laid beside each other, lifted and laid anew.

Where a panel ends inside a section the next one goes on there, so that every panel costs one strip more than the
sections do; where some sections are just as wide as a panel, none.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement
from math import log
from random import Random
from typing import NamedTuple

from planner.layout.cutting.deadline import Deadline
from planner.layout.ripping.bench import Bench, Class, Section, Wood
from planner.layout.ripping.widths import Widths, nm

SECONDS_FOR_FEWER_STRIPS = 0.3
MOST_KINDS_IN_THREES = 16
MATCHED = (0.0, 0.3, 0.6, 1.0)
"""How likely a panel looks first for sections that are together just as wide, from turn to turn."""
TURNS_FROM_ONE_START = 400
MOST_LIFTED = 6
WORSE_AT_TIMES = nm(0.1)
AN_UNTOUCHED_SECTION = nm(0.3)
LESS_THAN_A_SECTION_GIVES = nm(0.25)
BY_CHANCE = nm(0.25)
UNUSED = 0.2
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
    width: int


class Rest(NamedTuple):
    """What is left of some section across, with a kerf that its edge saves, and how wide it was."""

    own: Class
    full: int
    room: int


Laid = dict[int, list[Cut]]
"""Strips by panel, of which some may still be missing."""


def shared_out(bench: Bench, sections: Sequence[Section], deadline: Deadline) -> list[Share] | None:
    """Every panel's strips, as few as were found; None where no try had wood enough for all."""
    rng = Random(0)  # noqa: S311
    best: Laid | None = None
    while deadline.left():
        bench_top = _Top(bench, sections, rng)
        for _ in range(TURNS_FROM_ONE_START):
            if bench_top.turn() and (best is None or bench_top.strips < sum(map(len, best.values()))):
                if best is None:
                    deadline = Deadline(min(deadline.left(), SECONDS_FOR_FEWER_STRIPS))
                best = {panel: list(cuts) for panel, cuts in bench_top.laid.items()}
            if not deadline.left():
                break
    return None if best is None else list(_shares(sections, best))


def _shares(sections: Sequence[Section], laid: Laid) -> Iterator[Share]:
    """Strips of one section for one panel are equally wide."""
    for panel, cuts in laid.items():
        widths: dict[int, list[int]] = defaultdict(list)
        for cut in cuts:
            widths[cut.place].append(cut.width)
        for place, own in widths.items():
            parts = tuple(sum(own) // len(own) + (number < sum(own) % len(own)) for number in range(len(own)))
            yield Share(sections[place], place, panel, parts)


class _Top:
    """The bench top: what is left of every section, and which panels lie there."""

    def __init__(self, bench: Bench, sections: Sequence[Section], rng: Random) -> None:
        self.bench, self.rng = bench, rng
        self.rests = [
            Rest(Class(each.length, each.thickness), each.width, each.width + bench.kerf) for each in sections
        ]
        self.narrowest = min(wood.narrowest for wood in bench.wood)
        self.laid: Laid = {}
        self.matched = 0.0

    @property
    def strips(self) -> int:
        return sum(map(len, self.laid.values()))

    @property
    def missing(self) -> int:
        """The width that panels still want."""
        return sum(wood.width for wood in self.bench.wood) - sum(
            cut.width for cuts in self.laid.values() for cut in cuts
        )

    def turn(self) -> bool:
        """Some panels are lifted and laid anew with those that are not whole; whether all are then."""
        before, worth = ({panel: list(cuts) for panel, cuts in self.laid.items()}, list(self.rests)), self._worth()
        for panel in self._to_lift():
            self._lift(panel)
        self.matched = self.rng.choice(MATCHED)
        wide_first = self.rng.random() < 0.5
        out = [panel for panel in range(len(self.bench.wood)) if panel not in self.laid]
        for panel in sorted(out, key=lambda each: self._order(self.bench.wood[each], wide_first=wide_first)):
            self._lay(panel)
        if self._worth() - worth > -log(1 - self.rng.random()) * WORSE_AT_TIMES:
            self.laid, self.rests = before
        return not self.missing

    def _worth(self) -> int:
        return self.missing + self.bench.loss * self.strips

    def _is_whole(self, panel: int) -> bool:
        return sum(cut.width for cut in self.laid[panel]) == self.bench.wood[panel].width

    def _to_lift(self) -> list[int]:
        """One by lot, those that share its sections, and others by lot."""
        there = [panel for panel in self.laid if self._is_whole(panel)]
        broken = [panel for panel in self.laid if panel not in there]
        if not there:
            return broken
        one = self.rng.choice(there)
        places = {cut.place for cut in self.laid[one]}
        beside = [panel for panel in there if panel != one and any(cut.place in places for cut in self.laid[panel])]
        others = [panel for panel in there if panel != one and panel not in beside]
        self.rng.shuffle(beside)
        self.rng.shuffle(others)
        return [*broken, *[one, *beside, *others][: self.rng.randint(1, MOST_LIFTED)]]

    def _order(self, wood: Wood, *, wide_first: bool) -> tuple[int, bool, int, bool, float]:
        """The thickest first, then, if so, those of strips that are said, then the longest."""
        by_lot, is_free = self.rng.random() * nm(4) - wood.width * wide_first, wood.strips is None
        return -wood.own.thickness, is_free and wide_first, -wood.own.length, is_free, by_lot

    def _lay(self, panel: int) -> None:
        wood = self.bench.wood[panel]
        self.laid[panel] = []
        if wood.strips:
            for _ in range(wood.strips):
                self._strip(panel, wood, wood.narrowest)
        elif not self._matched(panel, wood):
            self._strip_by_strip(panel, wood)

    def _lift(self, panel: int) -> None:
        for cut in self.laid.pop(panel):
            rest = self.rests[cut.place]
            self.rests[cut.place] = rest._replace(room=rest.room + cut.width + self.bench.loss)

    def _take(self, place: int, panel: int, width: int) -> None:
        self.laid[panel].append(Cut(place, width))
        rest = self.rests[place]
        self.rests[place] = rest._replace(room=rest.room - width - self.bench.loss)

    def _matched(self, panel: int, wood: Wood) -> bool:
        """Of untouched sections that are together as wide as the panel, or less than a strip's loss wider."""
        if self.rng.random() >= self.matched:
            return False
        untouched: dict[Rest, list[int]] = defaultdict(list)
        for place, rest in enumerate(self.rests):
            if rest.room == rest.full + self.bench.kerf and rest.own.serves(wood.own):
                untouched[rest].append(place)
        widest = {rest: self.bench.widest_of(rest.full, wood) for rest in untouched}
        groups = [
            (sum(widest[rest] for rest in group) - wood.width + self.rng.randrange(self.bench.loss + 1), group)
            for group in _groups([rest for rest in untouched if widest[rest]])
            if 0 <= sum(widest[rest] for rest in group) - wood.width < self.bench.loss
            and all(len(untouched[rest]) >= count for rest, count in Counter(group).items())
        ]
        if not groups:
            return False
        _, group = min(groups)
        beyond = sum(widest[rest] for rest in group) - wood.width
        for rest in group:
            less = min(beyond, widest[rest] - wood.narrowest)
            beyond -= less
            self._take(untouched[rest].pop(), panel, widest[rest] - less)
        return not beyond

    def _strip_by_strip(self, panel: int, wood: Wood) -> None:
        """Until the panel is as wide as it is to be, or no section gives more."""
        width = wood.width - sum(cut.width for cut in self.laid[panel])
        while width and (taken := self._strip(panel, wood, width)):
            width -= taken

    def _strip(self, panel: int, wood: Wood, width: int) -> int:
        """The width of the next strip, from the section that loses least; 0 where none gives one."""
        found = [
            (self._lost(rest, wood, strip, width), place, strip)
            for place, rest in enumerate(self.rests)
            if rest.own.serves(wood.own) and (strip := self._strip_of(rest, wood, width))
        ]
        if not found:
            return 0
        _, place, strip = min(found)
        self._take(place, panel, strip)
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
        unused = strip * (longer / rest.own.length + thicker / rest.own.thickness)
        return lost + self.rng.random() * BY_CHANCE + unused * UNUSED


def _groups(rests: Sequence[Rest]) -> Iterator[tuple[Rest, ...]]:
    for count in (1, 2, 3) if len(rests) <= MOST_KINDS_IN_THREES else (1, 2):
        yield from combinations_with_replacement(rests, count)
