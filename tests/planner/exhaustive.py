"""Tiny problems, and the cost of their best plan, found by trying every start, person and station of every step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import product

from hypothesis import strategies as st

from planner import (
    Begun,
    Hold,
    Link,
    Missed,
    Need,
    Order,
    Person,
    Placed,
    Plan,
    Prices,
    Problem,
    Station,
    StationNeed,
    Step,
    Unplaced,
    broken_rules,
)
from planner.judging.left_out import left_out_only_for_want_of_a_start as HAS_NO_START  # noqa: N812
from planner.rules import RULES
from tests.planner.makers import make_plan, make_problem, make_step

NOW = 2


@dataclass
class Trying:
    """A walk through all plans; what stands so far is only tested for what can be seen of it."""

    problem: Problem
    leaving_out: bool = False
    best: float | None = None
    rows: dict[str, Placed] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for step in self.problem.steps:
            if step.begun:
                end = step.begun.start + step.minutes
                self.rows[step.id] = Placed(step.id, step.begun.start, end, step.begun.person, step.begun.stations)
        self.to_place = [step for step in self.problem.steps if not step.begun]
        hours = [close for person in self.problem.people for _, close in person.hours]
        hours += [close for station in self.problem.stations for _, close in station.hours or ()]
        self.last = max([NOW, *hours]) + sum(step.minutes for step in self.problem.steps)
        self.last += sum(max(least for least, _ in link.waits) for link in self.problem.links)

    def walk(self, number: int = 0) -> float | None:
        if number == len(self.to_place):
            self._judge()
            return self.best
        step = self.to_place[number]
        for person, stations in product(self._people(step), product(*(need.any_of for need in step.stations))):
            for start in range(max(NOW, step.release or NOW), self.last - step.minutes + 1):
                self.rows[step.id] = Placed(step.id, start, start + step.minutes, person, stations)
                if self._may_stand(step, self.rows[step.id]):
                    self.walk(number + 1)
                del self.rows[step.id]
        if self.leaving_out:
            self.walk(number + 1)
        return self.best

    def _people(self, step: Step) -> list[str | None]:
        if step.skill is None:
            return [None]
        return [person.id for person in self.problem.people if step.skill in person.skills]

    def _may_stand(self, step: Step, row: Placed) -> bool:
        for kind, minute in _minutes(step, row.start):
            working = [person for person in self.problem.people if _works(person, minute)]
            if kind is Need.WATCH and not working:
                return False
            if kind is Need.HANDS and row.person not in [person.id for person in working]:
                return False
        return all(
            self._may_follow(link) for link in self.problem.links if {link.before, link.after} <= self._with(row)
        )

    def _with(self, row: Placed) -> set[str]:
        self.rows[row.step] = row
        return set(self.rows)

    def _may_follow(self, link: Link) -> bool:
        if self.problem.step[link.after].begun:
            return True
        wait = self.rows[link.after].start - self.rows[link.before].end
        lost = self._lost(link)
        return bool(lost) or any(least <= wait and (most is None or wait <= most) for least, most in link.waits)

    def _lost(self, link: Link) -> int:
        """The minutes by which the last window after a begun step is lost."""
        ends = [most for _, most in link.waits]
        if None in ends or not self.problem.step[link.before].begun:
            return 0
        return max(0, self.rows[link.after].start - self.rows[link.before].end - max(ends))

    def _judge(self) -> None:
        plan = self._plan()
        if self.best is None or plan.cost < self.best:
            self.best = self.best if broken_rules(self.problem, plan) else plan.cost

    def _plan(self) -> Plan:
        out = [Unplaced(step.id, "Tried without.") for step in self.to_place if step.id not in self.rows]
        return make_plan(self.problem, *self._changed_over(), missed=self._missed(), unplaced=out)

    def _changed_over(self) -> Iterator[Placed]:
        """The rows with the changeovers that the states at each station ask for."""
        states = {station.id: station.start_state for station in self.problem.stations}
        for row in sorted(self.rows.values(), key=lambda each: (each.start, each.end)):
            step, minutes = self.problem.step[row.step], 0
            if step.begun and row.end <= NOW:
                yield row
                continue
            for name in row.stations:
                if not step.begun:
                    minutes += self.problem.station[name].changeover_minutes(states[name], step.state_in)
                states[name] = step.leaves_state or states[name]
            yield Placed(row.step, row.start, row.end, row.person, row.stations, minutes)

    def _missed(self) -> Iterator[Missed]:
        for link in self.problem.links:
            if {link.before, link.after} <= self.rows.keys() and not self.problem.step[link.after].begun:
                lost = self._lost(link)
                if lost:
                    yield Missed(link.before, link.after, lost)


class Beside(Trying):
    """The same for what a plan leaves out, all else as it stands; `best` is 0 if any of it can be placed."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        super().__init__(problem, leaving_out=True)
        self.plan = plan
        self.rows |= plan.by_step
        self.to_place = [step for step in problem.steps if step.id not in plan]

    def walk(self, number: int = 0) -> float | None:
        return super().walk(number) if self.best is None else self.best

    def _judge(self) -> None:
        plan = self._plan()
        stays = all(plan[row.step] == row for row in self.plan.placed)
        if stays and len(plan.placed) > len(self.plan.placed):
            broken = any(True for rule in RULES if rule is not HAS_NO_START for _ in rule(self.problem, plan))
            self.best = None if broken else 0


def _minutes(step: Step, start: int) -> Iterator[tuple[Need, int]]:
    for segment in step.segments:
        yield from ((segment.need, minute) for minute in range(start, start + segment.minutes))
        start += segment.minutes


def _works(person: Person, minute: int) -> bool:
    return any(opens <= minute < closes for opens, closes in person.openings)


@st.composite
def hours(draw: st.DrawFn) -> tuple[tuple[int, int], ...]:
    cuts = sorted(draw(st.sets(st.integers(0, 16), min_size=2, max_size=4)))
    return tuple(zip(cuts[::2], cuts[1::2], strict=False))


@st.composite
def steps(draw: st.DrawFn, name: str) -> Step:
    kinds = st.tuples(st.integers(1, 3), st.sampled_from(["hands", "hands", "watch", "alone"]))
    segments = draw(st.lists(kinds, min_size=1, max_size=2))
    places = draw(st.sampled_from([(), ("router",), ("rack",), (("rack", "bench"),)]))
    state = draw(st.sampled_from([None, "a", "b"])) if places == ("router",) else None
    needs = tuple(StationNeed((place,) if isinstance(place, str) else place, 1) for place in places)
    begun = None
    if draw(st.integers(0, 7)) == 0:
        begun = Begun(NOW - draw(st.integers(0, 3)), "ana", tuple(need.any_of[0] for need in needs))
    hands = any(kind == "hands" for _, kind in segments)
    return make_step(
        name, segments=segments, skill="wood" if hands else None, stations=needs, state_in=state, begun=begun,
        release=draw(st.sampled_from([None, None, 5])),
    )  # fmt: skip


@st.composite
def tiny_problems(draw: st.DrawFn, most_steps: int = 4) -> Problem:
    """Three or four steps of a few minutes within a quarter of an hour, with what most problems have."""
    made = [draw(steps(f"s{number}")) for number in range(draw(st.integers(3, most_steps)))]
    pairs = [(one.id, other.id) for place, one in enumerate(made) for other in made[place + 1 :]]
    windows = st.sampled_from([(0, None), (0, 2), (2, 5), (3, None), (1, 1)])
    linked = draw(st.lists(st.sampled_from(pairs), min_size=1, max_size=len(made), unique=True))
    links = [Link(*pair, *draw(windows)) for pair in linked]
    held = draw(st.lists(st.sampled_from(linked), max_size=1))
    dues = st.integers(NOW, 20)
    return make_problem(
        *made,
        now=NOW,
        people=[
            Person("ana", frozenset({"wood"}), draw(st.sampled_from([((2, 16),), ((0, 7), (9, 16))]) | hours())),
            Person("ben", frozenset({"wood"}), draw(hours())),
        ],
        stations=[Station("router", 1, None, "a", {("a", "b"): 2}, 1), Station("rack", 2), Station("bench")],
        links=links,
        holds=[Hold("rack", 1, *pair) for pair in held],
        orders=[
            Order(f"o-{step.id}", (step.id,), draw(dues), draw(st.sampled_from([1, 3])), draw(st.booleans()))
            for step in made
        ],
        prices=Prices(5, 60, 90, 0.5, 6, 12),
    )


@st.composite
def odd_problems(draw: st.DrawFn) -> Problem:
    """The same with further windows, holds of any two steps, roomy stations that close, leaving out for little."""
    plain = draw(tiny_problems())
    further = st.sampled_from([((4, 5),), ((6, None),), ((3, 4), (8, None))])
    links = [replace(link, also=draw(further)) if draw(st.booleans()) else link for link in plain.links]
    pairs = st.lists(st.sampled_from([step.id for step in plain.steps]), min_size=2, max_size=2, unique=True)
    rack = Station("rack", draw(st.sampled_from([2, 5])), draw(st.none() | hours()))
    holds = [
        Hold(*draw(st.sampled_from([("rack", 1), ("rack", rack.capacity), ("bench", 1)])), *draw(pairs))
        for _ in range(draw(st.integers(0, 2)))
    ]
    router, _, bench = plain.stations
    return replace(
        plain,
        stations=(router, rack, replace(bench, hours=draw(st.none() | hours()))),
        links=tuple(links),
        holds=tuple(holds),
        prices=replace(plain.prices, unplaced=draw(st.sampled_from([0, 1, 1000]))),
    )


@st.composite
def problems_with_steps_alike(draw: st.DrawFn) -> Problem:
    """Three or four steps that could change places, after one that they all wait for, shared out among the orders."""
    segments = draw(st.sampled_from([((1, "hands"),), ((2, "hands"),), ((1, "hands"), (1, "alone"))]))
    wait = draw(st.sampled_from([(0, None), (1, 4)]))
    packs = [make_step(f"pack-{number}", segments=segments) for number in range(draw(st.sampled_from([3, 3, 3, 4])))]
    orders = draw(st.lists(st.sampled_from("ab"), min_size=len(packs), max_size=len(packs)))
    shared = {name: tuple(p.id for p, order in zip(packs, orders, strict=True) if order == name) for name in "ab"}
    return make_problem(
        make_step("wipe", draw(st.integers(1, 3))),
        *packs,
        now=NOW,
        people=[Person("ana", frozenset({"wood"}), draw(hours())), Person("ben", frozenset({"wood"}), ((2, 12),))],
        links=[Link("wipe", pack.id, *wait) for pack in packs],
        orders=[
            Order(name, steps, draw(st.integers(NOW, 12)), draw(st.sampled_from([1, 3])), draw(st.booleans()))
            for name, steps in shared.items()
            if steps
        ],
        prices=Prices(5, 60, 90, 0.5, 6, draw(st.sampled_from([0, 12]))),
    )
