"""Parts of a plan thought through with CP-SAT: the model knows every plan that the judge allows, and no other."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from time import monotonic

import pytest

from benchmarks.workshops import workshop
from planner import Begun, Hold, Link, Order, Plan, Prices, Problem, Station, broken_rules, quick_plan
from planner.search.course import Search
from planner.search.cpsat import model
from planner.search.cpsat.model import Thought, think
from planner.search.cpsat.part import Part, is_exact, whole
from planner.search.cpsat.rules import Rules
from planner.search.cpsat.variables import OutOfTimeError, Variables
from planner.search.drafting import finished_plan
from planner.search.facts import Facts
from planner.search.listing import ListRule
from planner.search.neighbourhoods import span_of
from planner.search.stop import Stop
from tests.planner.makers import make_person, make_problem, make_step, printed

LATE = Prices(late_hour=60)
LONG_AGO = -20_000


def settled(problem: Problem, plan: Plan | None = None, free: set[str] | None = None) -> Thought:
    """Some steps of a plan thought through to the end, or all of them; what is found keeps the rules."""
    plan, facts = plan or quick_plan(problem), Facts(problem)
    part = whole(facts, plan)
    if free:
        part = Part(facts, plan, frozenset(free), span_of(plan, free, facts.now))
    thought = think(part, seconds=5, workers=1, seed=0, stop=Stop(10))
    assert thought.settled
    assert thought.plan is not None
    assert broken_rules(problem, thought.plan) == []
    assert thought.bound <= thought.plan.cost + 0.01
    return thought


def late(*steps: str, due: int = 480) -> list[Order]:
    return [Order(step, (step,), due) for step in steps]


def test_a_wait_without_end_may_be_as_long_as_it_must():
    old = make_step("old", 30, begun=Begun(LONG_AGO, "ana", ()))
    for window in (None, 100):
        problem = make_problem(
            old, make_step("next"), links=[Link("old", "next", 60, window)], orders=late("next"), prices=LATE
        )
        assert settled(problem).plan["next"].start == 480


def test_what_follows_may_stand_far_behind_the_span():
    problem = make_problem(
        make_step("early"),
        make_step("urgent"),
        make_step("fixed", release=9000),
        links=[Link("early", "fixed")],
        holds=[Hold("rack", 1, "early", "fixed")],
        stations=[Station("rack")],
        people=[make_person(hours=((480, 1020), (9000, 9600)))],
        orders=late("urgent"),
        prices=LATE,
    )
    assert settled(problem, free={"early", "urgent"}).plan["urgent"].start == 480


def dried(*more, room: int = 1, **others) -> Problem:
    """Two pieces lie in a rack since before now until they are wiped."""
    begun = [make_step(name, 10, begun=Begun(400 + at * 10, "ana", ())) for at, name in enumerate(("oil1", "oil2"))]
    pairs = [("oil1", "wipe1"), ("oil2", "wipe2")]
    return make_problem(
        *begun,
        make_step("wipe1", 10),
        make_step("wipe2", 10),
        *more,
        links=[Link(*pair) for pair in pairs],
        holds=[Hold("rack", 1, *pair) for pair in pairs],
        stations=[Station("rack", room)],
        orders=late("wipe1", *(step.id for step in more)),
        prices=LATE,
        **others,
    )


def test_begun_holds_may_overload_a_station_by_themselves():
    assert settled(dried()).plan["wipe1"].start == 480


def test_nothing_new_comes_to_a_station_that_begun_holds_overload():
    plan = settled(dried(make_step("new", 30, "alone", at=["rack"]))).plan
    assert plan["new"].start == max(plan["wipe1"].end, plan["wipe2"].end) == 500


def test_new_work_comes_to_a_station_as_soon_as_there_is_room_beside_what_begun_steps_hold():
    other = make_step("oil3", 10, begun=Begun(420, "ana", ()))
    crowded = dried(make_step("new", 30, "alone", at=["rack"]), room=2)
    problem = make_problem(
        *crowded.steps,
        other,
        make_step("wipe3", 10, release=900),
        links=[*crowded.links, Link("oil3", "wipe3")],
        holds=[*crowded.holds, Hold("rack", 1, "oil3", "wipe3")],
        stations=crowded.stations,
        orders=crowded.orders,
        prices=LATE,
    )
    assert settled(problem).plan["new"].start == 500


def test_fixed_work_is_not_overtaken_by_an_overload_of_begun_holds():
    problem = dried(make_step("new", 30, "alone", at=["rack"]), make_step("other", 40))
    plan = settled(problem).plan
    assert plan["other"].start == 500
    again = settled(problem, plan, free={"wipe2", "other"}).plan
    assert again["new"] == plan["new"]
    assert again["wipe2"].end <= again["new"].start


def test_a_hold_whose_end_comes_before_its_beginning_holds_nothing():
    problem = make_problem(
        make_step("a", 10, "alone"),
        make_step("b", 10, release=700),
        make_step("c", 300, "alone", at=["rack"]),
        links=[Link("a", "b", 0, 300)],
        holds=[Hold("rack", 1, "b", "a")],
        stations=[Station("rack")],
        orders=late("a", "b", "c"),
        prices=LATE,
    )
    assert is_exact(Facts(problem))
    plan = settled(problem).plan
    assert [plan[step].start for step in "abc"] == [480, 700, 480]


def test_a_hold_between_two_steps_in_any_order_holds_where_it_is_not_empty():
    problem = make_problem(
        make_step("first", 10, "alone", release=500),
        make_step("last", 10, "alone", release=900),
        make_step("c", 300, "alone", at=["rack"]),
        holds=[Hold("rack", 1, "first", "last")],
        stations=[Station("rack")],
        orders=[*late("c", due=800), *late("first")],
        prices=LATE,
    )
    plan = settled(problem).plan
    assert plan["c"].start == 480
    assert plan["first"].start == 780


def test_prices_as_large_as_a_problem_may_name_are_reckoned_with():
    for weight, price in ((1e12, 1e12), (1e8, 1e8), (1e14, 0.001), (1e-12, 1e-12)):
        steps = [make_step("x", 30), make_step("y", 20)]
        orders = [Order(step.id, (step.id,), 400, weight) for step in steps]
        thought = settled(make_problem(*steps, orders=orders, prices=Prices(late_hour=price)))
        assert thought.plan["y"].start == 480 or price < 1e-9
        assert thought.bound >= thought.plan.cost * (1 - 1e-6) or price < 1e-9


def test_what_is_left_out_at_a_very_high_price_is_placed():
    prices = Prices(late_hour=0.1234567, unplaced=9e14)
    facts = Facts(make_problem(make_step("x"), make_step("y"), orders=late("x"), prices=prices))
    part = whole(facts, finished_plan(facts, [], {"x", "y"}), {"x", "y"})
    assert think(part, seconds=5, workers=1, seed=0, stop=Stop(10)).plan["x"].start == 480


class Deaf(Stop):
    """Is over as soon as the solver runs, and tells nobody."""

    asked = 0
    is_asked_by_the_solver = False

    def reached(self) -> bool:
        self.asked += self.is_asked_by_the_solver
        return self.asked > 1

    def interrupts(self, _: Callable[[], object]) -> AbstractContextManager[None]:
        self.is_asked_by_the_solver = True
        return nullcontext()


@pytest.mark.parametrize("watcher", [None, lambda _: None])
def test_an_end_that_comes_before_the_solver_listens_is_not_lost(watcher):
    problem, began = workshop(60, 1, spare=1.1), monotonic()
    part = whole(Facts(problem), quick_plan(problem))
    assert not think(part, seconds=60, workers=1, seed=0, stop=Deaf(60), watcher=watcher).settled
    assert monotonic() - began < 20


def test_a_search_that_is_over_does_not_begin_to_think():
    problem, stop = make_problem(make_step("x"), orders=late("x"), prices=LATE), Stop(60)
    stop.now()
    thought = think(whole(Facts(problem), quick_plan(problem)), seconds=60, workers=1, seed=0, stop=stop)
    assert (thought.plan, thought.settled) == (None, False)


def test_who_listens_to_a_thought_no_longer_does_once_it_fails(monkeypatch):
    problem = make_problem(make_step("x"), make_step("y"), orders=late("x"), prices=LATE)
    search = Search(ListRule(problem), quick_plan(problem), workers=1, seed=0, stop=Stop(60), gap=0)
    monkeypatch.setattr(model, "think", lambda *_, **__: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        search._think_whole()
    assert search.best.listeners == []


STATED = """
from benchmarks.workshops import workshop
from dataclasses import replace
from planner import Person, quick_plan
from planner.search.cpsat.model import Model
from planner.search.cpsat.part import whole
from planner.search.facts import Facts
from planner.search.stop import Stop

problem = workshop(30, 1)
more = [Person(f"{skill}-{place}", frozenset({skill}), problem.people[0].hours)
        for place, skill in enumerate(["wood", "finish", "detail", "router"])]
problem = replace(problem, people=(*problem.people, *more))
print(Model(whole(Facts(problem), quick_plan(problem)), Stop(60)).variables.cp.proto)
"""


def test_a_model_is_the_same_whatever_the_order_of_sets():
    first, *others = printed(STATED, hash_seeds=("1", "2", "3"))
    assert len(first) > 10_000
    assert others == [first, first]


def test_stating_a_large_part_ends_with_the_search():
    problem = workshop(60, 1)
    part, stop = whole(Facts(problem), quick_plan(problem)), Stop(60)
    variables = Variables(part, stop)
    stop.now()
    with pytest.raises(OutOfTimeError):
        Rules(variables).changeovers_follow_the_state()
    with pytest.raises(OutOfTimeError):
        Variables(part, stop)
