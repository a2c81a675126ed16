"""Place one cluster of steps: each at its first spot, and where a window would be missed, the step before it later."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.parts import Hold, Link
from planner.search.books import Books, Spot
from planner.search.clusters import Cluster
from planner.search.facts import Facts, last_wait
from planner.search.room import FAR

MOST_TRIES = 3_000  # later starts tried for one cluster before it is given up


class NoSpotError(Exception):
    """No start is left for a step."""

    def __init__(self, step: str) -> None:
        super().__init__(step)
        self.step = step


@dataclass(frozen=True, slots=True)
class _Later:
    """These steps must start at these minutes or later before the cluster can stand."""

    lows: dict[str, int]


@dataclass
class Draft:
    """A plan being made: where each placed step stands, and the steps that are left out."""

    facts: Facts
    books: Books
    spots: dict[str, Spot] = field(default_factory=dict)
    out: set[str] = field(default_factory=set)

    def end(self, step: str) -> int | None:
        """When a step ends; None while it is not placed."""
        if step in self.spots:
            return self.spots[step].end
        return self.facts.begun_end.get(step)


def place_cluster(draft: Draft, cluster: Cluster) -> None:
    """Place every step of a cluster that is not left out.

    Raises `NoSpotError`, with the draft as it was before, for a step to which no start is left.
    """
    steps = [step for step in cluster.steps if step not in draft.out]
    lows = {step: _low(draft.facts, step) for step in steps}
    marks: list[int] = []
    try:
        _place_all(draft, steps, lows, marks)
    except NoSpotError:
        if marks:
            _back_to(draft, steps, marks, 0)
        raise


def _low(facts: Facts, step: str) -> int:
    """The first minute at which a step may start; where it stays, that is where it was."""
    earliest = facts.steps[step].earliest
    return max(earliest, facts.in_force.rows[step].start) if step in facts.stays else earliest


def _place_all(draft: Draft, steps: list[str], lows: dict[str, int], marks: list[int]) -> None:
    for _ in range(MOST_TRIES + len(steps)):
        if len(marks) == len(steps):
            return
        step = steps[len(marks)]
        marks.append(draft.books.mark())
        later = _place(draft, step, lows[step])
        if later:
            lows |= later.lows
            _back_to(draft, steps, marks, min(steps.index(each) for each in later.lows))
    raise NoSpotError(steps[-1])


def _back_to(draft: Draft, steps: list[str], marks: list[int], place: int) -> None:
    draft.books.back_to(marks[place])
    for step in steps[place : len(marks)]:
        draft.spots.pop(step, None)
    del marks[place:]


def _place(draft: Draft, step: str, low: int) -> _Later | None:
    """Place a step at its first spot from `low` on that its waits allow, or say who must be later for it."""
    facts = draft.facts.steps[step]
    held = _held_by(draft, step)
    spot, later = _first_allowed(draft, step, low, held)
    if spot is None:
        return later
    draft.books.take(spot, facts)
    draft.spots[step] = spot
    return _hold(draft, step)


def _held_by(draft: Draft, step: str) -> dict[str, int]:
    """The load on top of a step's own of the holds that begin with it, and of those that last until its end."""
    held: dict[str, int] = {}
    for hold in draft.facts.holds_of[step]:
        begins = hold.first == step and hold.last not in draft.facts.begun_end
        ends = hold.last == step and hold.first in draft.spots
        if begins or ends:
            held[hold.station] = held.get(hold.station, 0) + hold.load
    return held


def _first_allowed(draft: Draft, step: str, low: int, held: dict[str, int]) -> tuple[Spot | None, _Later | None]:
    facts = draft.facts.steps[step]
    links = [link for link in draft.facts.links_in[step] if draft.end(link.before) is not None]
    while True:
        low = _first_in_windows(draft, links, low)
        spot = _where_it_was(draft, step, low, held) or draft.books.first_spot(facts, low, held)
        if spot is None:
            raise NoSpotError(step)
        if _first_in_windows(draft, links, spot.start) == spot.start:
            break
        low = spot.start
    late = {link.before: _lateness(draft, link, spot.start) for link in links if draft.facts.ties(link)}
    lows = {before: draft.spots[before].start + minutes for before, minutes in late.items() if minutes > 0}
    return (None, _Later(lows)) if lows else (spot, None)


def _where_it_was(draft: Draft, step: str, low: int, held: dict[str, int]) -> Spot | None:
    """The spot of a step that stays, if nothing is in the way."""
    kept = draft.facts.kept(step)
    spot = draft.books.first_spot(kept, low, held) if kept else None
    return spot if spot and spot.start == draft.facts.in_force.rows[step].start else None


def _first_in_windows(draft: Draft, links: list[Link], start: int) -> int:
    """The first minute from `start` on that no link forbids, but for the end of a last window."""
    settled = False
    while not settled:
        settled = True
        for link in links:
            allowed = _allowed_from(draft, link, start)
            if allowed > start:
                start, settled = allowed, False
    return start


def _allowed_from(draft: Draft, link: Link, start: int) -> int:
    end = draft.end(link.before)
    assert end is not None  # noqa: S101 - only links from placed steps are asked about
    if any(end + least <= start and (most is None or start <= end + most) for least, most in link.waits):
        return start
    return min((end + least for least, _ in link.waits if end + least > start), default=start)


def _lateness(draft: Draft, link: Link, start: int) -> int:
    """By how much a start is past the link's last window."""
    most = last_wait(link)
    return 0 if most is None else start - (draft.spots[link.before].end + most)


def _hold(draft: Draft, step: str) -> _Later | None:
    """Enter the holds that this step begins or ends; where one finds no room, its first step must be later."""
    for hold in draft.facts.holds_of[step]:
        later = _enter_hold(draft, hold, step)
        if later:
            return later
    return None


def _enter_hold(draft: Draft, hold: Hold, step: str) -> _Later | None:
    if hold.first in draft.facts.begun_end:
        draft.books.add_load(hold.station, draft.spots[step].end, FAR, -hold.load)
        return None
    if hold.first not in draft.spots:
        return None
    start = draft.spots[hold.first].start if step == hold.first else draft.spots[hold.first].end
    end = _held_until(draft, hold)
    blocked = draft.books.first_without_room(hold, start, end)
    if blocked is not None:
        return _Later({hold.first: _free_again(draft, hold, blocked)})
    draft.books.add_load(hold.station, start, end, hold.load)
    return None


def _held_until(draft: Draft, hold: Hold) -> int:
    """The end of a hold as far as it is known: its last step's end, the horizon, or at least its first step's end."""
    if hold.last in draft.out:
        return FAR
    last = draft.end(hold.last)
    return draft.spots[hold.first].end if last is None else last


def _free_again(draft: Draft, hold: Hold, blocked: int) -> int:
    """The first minute after `blocked` at which the station has room for the hold again."""
    minute = draft.books.rooms[hold.station].room_again(blocked, hold.load)
    if minute is None:
        raise NoSpotError(hold.first if hold.last in draft.out else hold.last)
    return max(minute, draft.spots[hold.first].start + 1)


def enter_begun_holds(draft: Draft) -> None:
    """What begun steps hold is taken to the horizon, until its last step is placed and says when it ends."""
    for hold in draft.facts.problem.holds:
        begun = draft.facts.problem.step[hold.first].begun
        if begun:
            last = draft.facts.begun_end.get(hold.last)
            draft.books.add_load(hold.station, begun.start, FAR if last is None else last, hold.load)
