"""Whether steps that were left out could still be placed beside everything that stands."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from graphlib import TopologicalSorter

from planner.judging.places import capacity_is_kept, changeovers_are_worked
from planner.judging.room_left import Room, spots
from planner.judging.spans import FOREVER, Spans, both, moved
from planner.plan import Placed, Plan
from planner.problem import Interval, Link, Problem, Step

MOST_LOOKS = 4_000  # at spots of a step and windows between steps
TRYING, ROWS_A_LOOK = 10, 50  # judging a plan with one more step in it counts as ten looks, and one for so many rows


def places_beside(problem: Problem, plan: Plan, group: frozenset[str]) -> list[Placed] | None:
    """Every step of the group placed beside the rest of the plan, or None where that cannot be (or takes too long)."""
    try:
        return _Looking(problem, group).places(plan)
    except _TooLongError:
        return None


class _TooLongError(Exception):
    """All looks are used up."""


@dataclass(frozen=True, slots=True)
class _Trial:
    """A plan with some of the group placed, and when each step of the group may start for all that is known."""

    plan: Plan
    placed: frozenset[Placed]
    starts: Mapping[str, Spans]


class _Looking:
    """A walk through the places of a group's steps in any order, back where one still to come has no start left.

    Where the group has room at all, there is a way to place it in which no step can be sooner; it is met by placing
    each step after those that keep it from being sooner, at the first minute of some span in which it may start.
    """

    def __init__(self, problem: Problem, group: frozenset[str]) -> None:
        self.problem, self.group = problem, group
        self.looks_left = MOST_LOOKS
        self.links: dict[str, list[Link]] = defaultdict(list)
        for link in problem.links:
            for step in {link.before, link.after} & group:
                self.links[step].append(link)

    def places(self, plan: Plan) -> list[Placed] | None:
        """All steps of the group, placed beside `plan`."""
        starts = self._starts_by_themselves(plan)
        seen: set[frozenset[Placed]] = set()
        walk = [self._with_one_more(_Trial(plan, frozenset(), starts))] if starts else []
        while walk:
            trial = next(walk[-1], None)
            if trial is None:
                walk.pop()
            elif len(trial.placed) == len(self.group):
                return [trial.plan[step] for step in starts or ()]
            elif trial.placed not in seen:
                seen.add(trial.placed)
                walk.append(self._with_one_more(trial))
        return None

    def _starts_by_themselves(self, plan: Plan) -> dict[str, Spans] | None:
        """When each step may start beside the plan; None where some has no start or leaves none to another."""
        room = Room(self.problem, plan, self.group)
        starts: dict[str, Spans] = {}
        for step in self._one_after_the_other():
            found = room.starts_anywhere(self.problem.step[step])
            for link in self.links[step]:
                if link.after == step and link.before in plan:
                    found = both(found, moved(_only(plan[link.before].start), self._distances(link)))
            if not found:
                return None
            starts[step] = found
        return self._narrowed(starts, starts)

    def _one_after_the_other(self) -> list[str]:
        """The steps of the group, each after all of them that come before it by links."""
        before = {
            step: [link.before for link in self.links[step] if link.after == step and link.before in self.group]
            for step in sorted(self.group)
        }
        return list(TopologicalSorter(before).static_order())

    def _with_one_more(self, trial: _Trial) -> Iterator[_Trial]:
        """The trial with any one of the steps still to come, placed in any way that leaves the others a start."""
        to_come = [step for step in trial.starts if step not in trial.plan]
        room = Room(self.problem, trial.plan, to_come)
        for step in to_come:
            for row in self._rows(room, trial, self.problem.step[step]):
                narrowed = self._narrowed({**trial.starts, step: _only(row.start)}, [step])
                if narrowed is None:
                    continue
                self._look(TRYING + len(trial.plan.placed) // ROWS_A_LOOK)
                rest = tuple(left for left in trial.plan.unplaced if left.step != step)
                plan = replace(trial.plan, placed=(*trial.plan.placed, row), unplaced=rest)
                if self._stands(plan, [other for other in to_come if other != step]):
                    yield _Trial(plan, trial.placed | {row}, narrowed)

    def _rows(self, room: Room, trial: _Trial, step: Step) -> Iterator[Placed]:
        """The step wherever it finds room beside the trial and can be no sooner."""
        held = set(self._ends_of_what_holds_meet(room, trial.plan, step))
        for spot in spots(self.problem, step):
            self._look()
            allowed = both(room.starts(step, spot), trial.starts[step.id])
            for start in sorted({first for first, _ in allowed} | {end for end in held if both(allowed, _only(end))}):
                yield Placed(step.id, start, start + step.minutes, spot.person, spot.stations, spot.changeover)

    def _ends_of_what_holds_meet(self, room: Room, plan: Plan, step: Step) -> Iterator[int]:
        """Where a hold of the step finds its station free again, or is over before it begins."""
        for hold in self.problem.holds:
            if step.id in {hold.first, hold.last}:
                yield from (use.end for use in room.stations.get(hold.station, ()))
            if step.id == hold.first and hold.last in plan:
                yield plan[hold.last].end

    def _stands(self, plan: Plan, to_come: Collection[str]) -> bool:
        """Whether the plan keeps the rules in which one more step may cross others: holds, and what is set up."""
        broken = [*capacity_is_kept(self.problem, plan, to_come), *changeovers_are_worked(self.problem, plan)]
        return not broken

    def _narrowed(self, starts: Mapping[str, Spans], changed: Iterable[str]) -> dict[str, Spans] | None:
        """The starts that the waits between steps of the group leave, or None where one has none."""
        narrowed, waiting = dict(starts), deque(changed)
        while waiting:
            step = waiting.popleft()
            for link in self.links[step]:
                other = link.after if link.before == step else link.before
                if other in self.group:
                    self._look()
                    near = moved(narrowed[step], self._distances(link, back=other == link.before))
                    left = both(narrowed[other], near)
                    if not left:
                        return None
                    if left != narrowed[other]:
                        narrowed[other] = left
                        waiting.append(other)
        return narrowed

    def _distances(self, link: Link, *, back: bool = False) -> list[Interval]:
        """How many minutes after the start of the earlier step the later one may start, or the other way round."""
        before = self.problem.step[link.before]
        waits = [(least, FOREVER if most is None else most) for least, most in link.waits]
        if before.begun:
            waits.append((max(most for _, most in waits), FOREVER))  # the last window may be lost
        found = [(before.minutes + least, before.minutes + most) for least, most in waits]
        return [(-most, -least) for least, most in found] if back else found

    def _look(self, looks: int = 1) -> None:
        self.looks_left -= looks
        if self.looks_left < 0:
            raise _TooLongError


def _only(minute: int) -> Spans:
    return ((minute, minute),)
