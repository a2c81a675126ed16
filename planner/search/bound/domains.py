"""When each step could start: what calendars, begun work and the windows of its links leave of all minutes.

Minutes are the bits of whole numbers, counted from now; a negative number is a set that goes on for ever.
The sets may be too large, never too small: who else is busy, changeovers and holds are left aside.
"""

from __future__ import annotations

from functools import cache, reduce
from operator import and_, or_

from planner.problem import Interval, Link
from planner.search.bits import lowest, runs, stretch
from planner.search.books import Books, Want, wants_of
from planner.search.facts import Facts, StepFacts, last_wait

ALL_BITS = 1_200_000_000  # in all sets together: where there are more steps, each looks less far ahead
FURTHEST = 3_000_000  # minutes, some years: nobody plans further ahead
ROUNDS = 3  # times that windows are passed on along all links, there and back


class Domains:
    """`starts[step]` are the minutes at which a step could start; `hopeless` have none in any plan.

    `first_starts[step]` is the first of them in a plan that leaves out other steps as well; all others are of plans
    that leave out none but the hopeless. `all_fit` is False where there is no such plan.
    """

    def __init__(self, facts: Facts) -> None:
        self.facts, self.books = facts, Books(facts)
        self._cap = min(FURTHEST, ALL_BITS // max(1, len(facts.steps)))
        self.far = min(self._last_change(), self._cap)
        self._hands = cache(self._of_hands)
        self._watch = cache(self._of_watch)
        self._places = cache(self._of_places)
        self.starts = {step: self._alone(its) for step, its in facts.steps.items()}
        self._narrow(all_placed=False)
        self.hopeless = facts.dragged_out({step for step, found in self.starts.items() if not found})
        self.starts |= dict.fromkeys(self.hopeless, 0)
        self.first_starts = {step: lowest(found) for step, found in self.starts.items() if found}
        self._narrow(all_placed=True)
        self.all_fit = all(found or step in self.hopeless for step, found in self.starts.items())

    def with_person(self, step: str, person: str | None) -> int:
        """The minutes at which this person could start the step."""
        return self.starts[step] & self._hands(person, self.facts.steps[step].hands)

    def _last_change(self) -> int:
        """A minute after which no calendar changes any more."""
        rooms = self.books.rooms.values()
        ends = [max(room.closes, room.last_change()) - self.facts.now for room in rooms]
        return max([self.books.watched.bit_length(), *ends]) + 1

    def _alone(self, its: StepFacts) -> int:
        """The starts of a step whatever else there is to do."""
        places = -1
        if its.knows_all_choices:
            every = (tuple(wants_of(its, stations, {})) for stations in its.choices)
            places = reduce(or_, (self._places(wants, its.minutes) for wants in every), 0)
        hands = reduce(or_, (self._hands(person, its.hands) for person in its.people), 0)
        return places & hands & self._watch(its.watch) & -1 << min(its.earliest - self.facts.now, self._cap)

    def _of_hands(self, person: str | None, hands: tuple[Interval, ...]) -> int:
        if person is None:
            return -1
        free = self._seen(self.books.free[person])
        return reduce(and_, (runs(free, end - begin) >> begin for begin, end in hands), -1)

    def _of_watch(self, watch: tuple[Interval, ...]) -> int:
        watched = self._seen(self.books.watched)
        return reduce(and_, (runs(watched, end - begin) >> begin for begin, end in watch), -1)

    def _of_places(self, wants: tuple[Want, ...], minutes: int) -> int:
        return reduce(and_, (runs(self._room(want), minutes) for want in wants), -1)

    def _room(self, want: Want) -> int:
        room = self.books.rooms[want.station]
        if want.load > room.capacity:
            return 0
        free = room.room(self.facts.now, self.far, want.load) | -1 << self.far
        return free if room.open is None else free & self._seen(room.open)

    def _seen(self, minutes: int) -> int:
        """What lies beyond what is looked at is taken to be free, if there is anything at all."""
        return minutes & stretch(0, self.far) | -1 << self.far if minutes >> self.far else minutes

    def _narrow(self, *, all_placed: bool) -> None:
        """Take away the starts that leave none to a step which must stand if this one does, or which does stand."""
        for _ in range(ROUNDS):
            before = dict(self.starts)
            for step in self.facts.order:
                self._after_what_comes_before(step)
            for step in reversed(self.facts.order):
                self._before_what_follows(step, all_placed=all_placed)
            if self.starts == before:
                break

    def _after_what_comes_before(self, step: str) -> None:
        for link in self.facts.links_in[step]:
            if link.before in self.facts.begun_end:
                self.starts[step] &= self._after_begun(link)
            elif self.starts[link.before]:
                minutes = self.facts.steps[link.before].minutes
                self.starts[step] &= _shifted_up(self.starts[link.before], minutes, link, self._cap)
            else:
                self.starts[step] = 0

    def _after_begun(self, link: Link) -> int:
        """Inside a window, or after the last one, which may be lost."""
        end = self.facts.begun_end[link.before] - self.facts.now
        most = last_wait(link)
        waits = link.waits if most is None else (*link.waits, (most, None))
        return reduce(or_, (_between(end + least, None if hi is None else end + hi, self._cap) for least, hi in waits))

    def _before_what_follows(self, step: str, *, all_placed: bool) -> None:
        minutes = self.facts.steps[step].minutes
        for link in self.facts.links_out[step]:
            follows = self.starts[link.after]
            if follows and (all_placed or self.facts.ties(link)):
                self.starts[step] &= _shifted_down(follows, minutes, link, self._cap)
            elif self.facts.ties(link):
                self.starts[step] = 0


def _between(first: int, last: int | None, cap: int) -> int:
    """The minutes from `first` to `last`, both included."""
    first = min(max(first, 0), cap)
    return -1 << first if last is None or last >= cap else stretch(first, max(first, last + 1))


def _shifted_up(starts: int, minutes: int, link: Link, cap: int) -> int:
    """The minutes that lie in a window after the end of some start."""
    found = 0
    for least, most in link.waits:
        if most is None or starts.bit_length() + minutes + most > cap:
            found |= -1 << min(lowest(starts) + minutes + least, cap)
        else:
            found |= _spread(starts, most - least) << (minutes + least)
    return found


def _shifted_down(starts: int, minutes: int, link: Link, cap: int) -> int:
    """The minutes from which some window leads to one of the starts."""
    found = 0
    for least, most in link.waits:
        if most is not None and starts.bit_length() + most <= cap:
            found |= _spread(starts, most - least) >> (minutes + most)
        else:
            found |= -1 if starts < 0 else stretch(0, max(0, starts.bit_length() - minutes - least))
    return found


def _spread(bits: int, more: int) -> int:
    """The bits, and the `more` ones after each of them."""
    have = 0
    while have < more:
        step = min(have + 1, more - have)
        bits |= bits << step
        have += step
    return bits
