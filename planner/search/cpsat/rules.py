"""The rules of the plan exchange for a CP-SAT model, each a method with the rule's name, and what follows from them."""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from planner.parts import Hold, Link
from planner.search.bits import intervals, stretch
from planner.search.cpsat.alike import Block, groups_alike
from planner.search.cpsat.part import comes_after
from planner.search.cpsat.turns import Turns
from planner.search.cpsat.variables import Deciding, Literal, Minute, Variables, changeover
from planner.search.facts import last_wait

Uses = list[tuple[cp_model.IntervalVar, int]]


class Rules:
    """States every rule about the free steps of a part. Hours are in the starts each choice has, and need no rule."""

    def __init__(self, variables: Variables) -> None:
        self.variables = variables
        self.cp = variables.cp
        self.part = variables.part
        self.facts = variables.facts
        self.steps = variables.steps
        self.turns = Turns(variables)
        self.alike = groups_alike(self.part)

    def state(self) -> None:
        for rule in (
            self.waits_lie_in_their_windows,
            self.one_pair_of_hands,
            self.room_at_stations,
            self.changeovers_follow_the_state,
            self.hands_of_several_together,
            self.steps_alike_in_blocks,
        ):
            rule()

    def waits_lie_in_their_windows(self) -> None:
        """A wait lies in one of its windows; after a begun step the last one has no end, and lateness is priced."""
        for step in self.steps:
            for link in self.facts.links_in[step] + self.facts.links_out[step]:
                other = link.before if link.after == step else link.after
                if other in self.steps and step == link.after:
                    continue  # stated with the step before it
                if self.variables.stands(other):
                    self._state_wait(link)

    def _state_wait(self, link: Link) -> None:
        windows = [[least, cp_model.INT_MAX if most is None else most] for least, most in link.waits]
        if self.facts.is_soft(link) and last_wait(link) is not None:
            windows[-1][1] = cp_model.INT_MAX
        wait = self.variables.start(link.after) - self.variables.end(link.before)
        self.cp.add_linear_expression_in_domain(wait, cp_model.Domain.from_intervals(windows))

    def one_pair_of_hands(self) -> None:
        """A person's hands segments and changeovers never overlap."""
        worked: dict[str, list[cp_model.IntervalVar]] = defaultdict(list)
        for step in self.steps.values():
            for person, literal in step.who.items():
                if person is not None:
                    worked[person] += self._worked(step, literal)
        for hands in worked.values():
            self.cp.add_no_overlap(hands)

    def _worked(self, step: Deciding, literal: Literal) -> list[cp_model.IntervalVar]:
        """When a person has the step in hand, if it is theirs."""
        new = self.cp.new_optional_fixed_size_interval_var
        worked = [new(step.start + begin, end - begin, literal, "") for begin, end in step.facts.hands]
        for minutes, chosen in step.changes.items():
            if minutes:
                both = self._both(literal, chosen)
                worked.append(new(step.start - minutes, minutes, both, ""))
        return worked

    def _both(self, one: Literal, other: Literal) -> Literal:
        if one is self.variables.yes:
            return other
        if other is self.variables.yes:
            return one
        both = self.cp.new_bool_var("")
        self.cp.add_bool_and([one, other]).only_enforce_if(both)
        self.cp.add_bool_or([both, ~one, ~other])
        return both

    def room_at_stations(self) -> None:
        """At no instant do steps, changeovers and holds exceed a station's capacity, but where begun ones alone do."""
        new: dict[str, Uses] = defaultdict(list)
        begun: dict[str, Uses] = defaultdict(list)
        for step in self.steps.values():
            for name in dict.fromkeys(name for stations in step.where for name in stations):
                new[name] += self._uses(step, name)
        for hold in self.part.open_holds:
            uses = begun if hold.first in self.facts.begun_end else new
            uses[hold.station].append((self._held(hold), hold.load))
        for name in {**new, **begun}:
            self._share(name, new[name], begun[name])

    def _uses(self, step: Deciding, name: str) -> Uses:
        """The stretches for which a step takes a station, by choice."""
        uses = []
        for literal, load in step.at(name):
            taken = self.cp.new_optional_interval_var(step.taken, step.length, step.end, literal, "")
            uses.append((taken, load))
        return uses

    def _held(self, hold: Hold) -> cp_model.IntervalVar:
        """From the start of the first step to the end of the last, or to the horizon where that is left out.

        Where the last need not come after the first, it may end before that starts: then nothing is held.
        """
        start, end, (least, most) = self.variables.start(hold.first), self._held_until(hold), self._lengths(hold)
        length = self.cp.new_int_var(max(1, least), max(1, most), "")
        if least > 0:
            return self.cp.new_interval_var(start, length, end, f"hold {hold.first} {hold.last}")
        held = self.cp.new_bool_var("")
        self.cp.add(end <= start).only_enforce_if(~held)
        return self.cp.new_optional_interval_var(start, length, end, held, f"hold {hold.first} {hold.last}")

    def _held_until(self, hold: Hold) -> Minute:
        return self.variables.end(hold.last) if self.variables.stands(hold.last) else self.part.span[1]

    def _lengths(self, hold: Hold) -> tuple[int, int]:
        """The least and the most minutes from the first step's start to the last one's end; they may be below 0."""
        first, last = self.variables.reach(hold.first)
        if not self.variables.stands(hold.last):
            return self.part.span[1] - last, self.part.span[1] - first
        minutes = self.facts.problem.step[hold.last].minutes
        earliest, latest = self.variables.reach(hold.last)
        least = minutes if comes_after(self.facts, hold.first, hold.last) else earliest + minutes - last
        return least, latest + minutes - first

    def _share(self, name: str, new: Uses, begun: Uses) -> None:
        room = self.part.books.rooms[name]
        holds = any(hold.station == name for hold in self.part.open_holds)
        if room.capacity == 1 and not holds:
            self.cp.add_no_overlap([interval for interval, _ in new])
            return
        capacity = room.capacity
        uses = [*new, *begun]
        excess = self.part.load_at_first(name) + sum(load for _, load in begun) - capacity if begun else 0
        if excess > 0:
            uses.append((self._once_there_is_room(name, new), excess))
            capacity += excess
        for start, end, load in room.taken_between(*self.part.span):
            uses.append((self.cp.new_fixed_size_interval_var(start, end - start, ""), min(load, capacity)))
        self.cp.add_cumulative([interval for interval, _ in uses], [load for _, load in uses], capacity)

    def _once_there_is_room(self, name: str, new: Uses) -> cp_model.IntervalVar:
        """The rest of the span from when begun holds alone no longer overload a station; nothing new is there before.

        What has begun only ever becomes less, so the overload is a stretch at the beginning.
        """
        first, last = self.part.span
        start = self.cp.new_int_var(first, max(first, min(last, self.part.first_new_at(name))), "")
        for interval, _ in new:
            self.cp.add(interval.start_expr() >= start).only_enforce_if(interval.presence_literals())
        return self.cp.new_interval_var(start, self.cp.new_int_var(0, last - first, ""), last, "")

    def changeovers_follow_the_state(self) -> None:
        """Before each step its station is changed over from the state the turn before it left."""
        for name in self.part.books.queues:
            self.turns.state(name)

    def hands_of_several_together(self) -> None:
        """Those who share a skill have no more hands than they are: said again, while who does what is open."""
        for group in dict.fromkeys(frozenset(step.who) for step in self.steps.values() if len(step.who) > 1):
            uses = [use for step in self.steps.values() if group >= set(step.who) for use in self._hands(step)]
            people = [person.id for person in self.facts.problem.people if person.id in group]
            away = [use for person in people for use in self._away(person)]
            self.cp.add_cumulative([*uses, *away], [1] * (len(uses) + len(away)), len(group))

    def _hands(self, step: Deciding) -> list[cp_model.IntervalVar]:
        """When somebody, whoever that is, has a step in hand."""
        new = self.cp.new_fixed_size_interval_var
        worked = [new(step.start + begin, end - begin, "") for begin, end in step.facts.hands]
        if any(step.changes):
            minutes = self.cp.new_int_var(0, max(step.changes), "")
            self.cp.add(minutes == changeover(step))
            worked.append(self.cp.new_interval_var(step.taken, minutes, step.start, ""))
        return worked

    def _away(self, person: str) -> list[cp_model.IntervalVar]:
        """When somebody does not work, or works at what is fixed."""
        first, last = self.part.span
        free = self.part.books.hours[person].between(first - self.facts.now, last - self.facts.now)
        closed = intervals(stretch(0, last - first) & ~free, first)
        return [self.cp.new_fixed_size_interval_var(start, end + 1 - start, "") for start, end in closed]

    def steps_alike_in_blocks(self) -> None:
        """Of steps that could change places each block comes in its order, and whole blocks one after the other."""
        for blocks in self.alike:
            for block in blocks:
                self._in_turn([self.steps[step] for step in block])
            for one, other in combinations(blocks, 2):
                if len(one) == len(other) == 1:
                    continue  # one of the two is always first
                comes_first = self.cp.new_bool_var("")
                self._before(one, other).only_enforce_if(comes_first)
                self._before(other, one).only_enforce_if(~comes_first)

    def _before(self, one: Block, other: Block) -> cp_model.Constraint:
        return self.cp.add(self.variables.start(one[-1]) <= self.variables.start(other[0]))

    def _in_turn(self, steps: list[Deciding]) -> None:
        for one, other in pairwise(steps):
            self.cp.add(one.start <= other.start)
        people, hands = len(steps[0].facts.people), steps[0].facts.hands
        if hands:
            begin, end = hands[0]
            for one, other in zip(steps, steps[people:], strict=False):
                self.cp.add(other.start >= one.start + end - begin)
