"""What the search asks of a problem again and again, worked out once."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from graphlib import TopologicalSorter
from itertools import islice, product

from planner.parts import joined
from planner.plan import Placed, Plan
from planner.problem import Hold, Interval, Link, Need, Order, Problem, Step
from planner.search.bits import Calendar

LOOKED_AT = 4_096  # choices of stations looked at for one step
MOST_CHOICES = 64  # combinations of stations tried for one step


@dataclass(frozen=True, slots=True)
class StepFacts:
    """One step that has not begun: how long, whose hands when, where, and from when on."""

    id: str
    minutes: int
    hands: tuple[Interval, ...]
    watch: tuple[Interval, ...]
    people: tuple[str | None, ...]
    choices: tuple[tuple[str, ...], ...]
    loads: tuple[int, ...]
    earliest: int
    state_in: str | None
    leaves: str | None
    knows_all_choices: bool = True


@dataclass(frozen=True, slots=True)
class InForce:
    """The plan in force: its rows, the steps that had better stay where it has them, the price of moving any other.

    A move is another start: who does a step at the same minute, and where, may change without its being one.
    """

    rows: Mapping[str, Placed] = field(default_factory=dict)
    stays: frozenset[str] = frozenset()
    move_price: float = 0.0

    def staying(self, plan: Plan) -> frozenset[str]:
        """Of the steps that had better stay those that a plan starts at the same minute, whoever does them."""
        return frozenset(step for step in self.stays if step in plan and plan[step].start == self.rows[step].start)

    def moved(self, plan: Plan) -> float:
        """What it costs that a plan starts steps at another minute; another person or place alone is no move."""
        if not self.move_price:
            return 0.0
        return self.move_price * sum(
            row.step in plan and plan[row.step].start != row.start for row in self.rows.values()
        )


class Facts:
    """A problem's steps, links and holds by step, and the plan in force."""

    def __init__(self, problem: Problem, in_force: InForce | None = None) -> None:
        self.problem = problem
        self.in_force = in_force or InForce()
        self.stays = self.in_force.stays
        self.now = problem.now
        self.starts_alone: dict[str, list[Interval]] = {}  # by step, as far as `reasons` had to work them out
        self.begun_end = {step.id: step.begun.start + step.minutes for step in problem.steps if step.begun}
        self.steps = {step.id: self._facts(step) for step in problem.steps if not step.begun}
        self.links_in: dict[str, list[Link]] = defaultdict(list)
        self.links_out: dict[str, list[Link]] = defaultdict(list)
        for link in problem.links:
            if link.after in self.steps:
                self.links_in[link.after].append(link)
                self.links_out[link.before].append(link)
        self.holds_of: dict[str, list[Hold]] = defaultdict(list)
        for hold in problem.holds:
            for step_id in {hold.first, hold.last}:
                self.holds_of[step_id].append(hold)

    def _facts(self, step: Step) -> StepFacts:
        choices, knows_all_choices = self._choices(step)
        return StepFacts(
            id=step.id,
            minutes=step.minutes,
            hands=_offsets(step, Need.HANDS),
            watch=_offsets(step, Need.WATCH),
            people=self._people(step),
            choices=choices,
            knows_all_choices=knows_all_choices,
            loads=tuple(need.load for need in step.stations),
            earliest=max(self.now, self.now if step.release is None else step.release),
            state_in=step.state_in,
            leaves=step.leaves_state,
        )

    def _choices(self, step: Step) -> tuple[tuple[tuple[str, ...], ...], bool]:
        """Stations that bear the step's loads, taken together, and whether these are all there are.

        Where none of those looked at do, they all are choices, so that a reason can be told.
        """

        def bears(choice: tuple[str, ...]) -> bool:
            loads: Counter[str] = Counter()
            for station, need in zip(choice, step.stations, strict=True):
                loads[station] += need.load
            return all(load <= self.problem.station[station].capacity for station, load in loads.items())

        looked_at = list(islice(product(*(need.any_of for need in step.stations)), LOOKED_AT + 1))
        found = [choice for choice in looked_at if bears(choice)] or looked_at
        return tuple(found[:MOST_CHOICES]), len(looked_at) <= LOOKED_AT and len(found) <= MOST_CHOICES

    def _people(self, step: Step) -> tuple[str | None, ...]:
        """Those with the skill, the one who can do least else first."""
        if step.skill is None:
            return (None,)
        able = [person for person in self.problem.people if step.skill in person.skills]
        return tuple(person.id for person in sorted(able, key=lambda person: len(person.skills)))

    @cached_property
    def hours(self) -> dict[str, Calendar]:
        """When each person works, from now on."""
        return {person.id: Calendar.of(person.openings, self.now) for person in self.problem.people}

    @cached_property
    def watched(self) -> Calendar:
        """When anybody works, from now on."""
        return Calendar.of(self.problem.watched, self.now)

    @cached_property
    def open(self) -> dict[str, Calendar | None]:
        """When each station is open, from now on; None for always."""
        return {
            station.id: None if station.openings is None else Calendar.of(station.openings, self.now)
            for station in self.problem.stations
        }

    @cached_property
    def orders_of(self) -> Mapping[str, list[Order]]:
        """The orders each step belongs to, as they stand in the document."""
        orders: dict[str, list[Order]] = {step.id: [] for step in self.problem.steps}
        for order in self.problem.orders:
            for step in dict.fromkeys(order.steps):
                orders[step].append(order)
        return orders

    @cached_property
    def order(self) -> dict[str, int]:
        """A place for each step that has not begun, every step after all it waits for."""
        before = {
            step: [link.before for link in self.links_in[step] if link.before in self.steps] for step in self.steps
        }
        return {step: place for place, step in enumerate(TopologicalSorter(before).static_order())}

    def kept(self, step: str) -> StepFacts | None:
        """A step that stays, with no choice but who and where the plan in force has it; None for any other."""
        if step not in self.stays:
            return None
        row, facts = self.in_force.rows[step], self.steps[step]
        if row.person not in facts.people or row.stations not in facts.choices:
            return None
        return replace(facts, people=(row.person,), choices=(row.stations,))

    def needed_for(self, steps: Iterable[str]) -> set[str]:
        """Of these steps and all they wait for those that have not begun."""
        needed: set[str] = set()
        waiting = list(steps)
        while waiting:
            step = waiting.pop()
            if step in self.steps and step not in needed:
                needed.add(step)
                waiting += [link.before for link in self.links_in[step]]
        return needed

    def is_soft(self, link: Link) -> bool:
        """The last window after a begun step may be lost, at a price."""
        return link.before in self.begun_end

    def ties(self, link: Link) -> bool:
        """Whether the earlier step may not be done unless the later one follows in time."""
        return not self.is_soft(link) and last_wait(link) is not None

    def dragged_out(self, roots: set[str]) -> set[str]:
        """`roots` and every step that cannot be placed without them."""
        out: set[str] = set()
        waiting = list(roots)
        while waiting:
            step = waiting.pop()
            if step in out:
                continue
            out.add(step)
            waiting += self.dragged_by(step)
        return out

    def dragged_by(self, step: str) -> list[str]:
        """The steps next to this one that cannot be placed without it."""
        after = [link.after for link in self.links_out[step]]
        return after + [link.before for link in self.links_in[step] if self.ties(link)]


def last_wait(link: Link) -> int | None:
    """The end of the last allowed wait; None where there is none."""
    ends = [most for _, most in link.waits]
    return None if None in ends else max(most for most in ends if most is not None)


def _offsets(step: Step, need: Need) -> tuple[Interval, ...]:
    """The stretches of a step, from its start, that need hands or watching; those that follow on each other are one."""
    stretches = []
    start = 0
    for segment in step.segments:
        if segment.need is need:
            stretches.append((start, start + segment.minutes))
        start += segment.minutes
    return joined(stretches)
