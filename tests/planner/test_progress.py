"""What a search tells of itself, and what is left of one that breaks off."""

import json
import signal
from argparse import Namespace
from dataclasses import replace
from threading import Event

import pytest

from planner import Order, PlannerError, Prices, Unplaced, broken_rules, quick_plan, solve
from planner.shell import searching
from planner.shell.arguments import read_arguments
from planner.shell.progress import Progress, in_words
from planner.shell.searching import Search
from tests.planner.makers import make_problem, make_step

ORDER = Order("o", ("glue", "sand"), due=500)
PROBLEM = make_problem(make_step("glue"), make_step("sand"), orders=[ORDER], prices=Prices(late_hour=1))
PLAN = quick_plan(PROBLEM)


@pytest.fixture(autouse=True)
def same_signals():
    before = {number: signal.getsignal(number) for number in (signal.SIGTERM, signal.SIGINT)}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


@pytest.mark.parametrize(
    ("cost", "bound", "late", "words"),
    [
        (113.2, 94.3, 3, "cost 113.2, at most 21 % from the best possible, 3 orders late"),
        (1000, 999.995, 1, "cost 1,000.0, proved best, 1 order late"),
        (0, 0, 0, "cost 0.0, proved best, no orders late"),
        (5, 0, 0, "cost 5.0, perhaps far from the best possible: little is known of it, no orders late"),
        (5, None, 0, "cost 5.0, how far from the best possible is not known, no orders late"),
    ],
)
def test_progress_is_said_in_words(cost, bound, late, words):
    assert in_words(replace(PLAN, cost=cost), bound, late) == words


def test_what_is_left_out_is_said_too():
    plan = replace(PLAN, cost=1, unplaced=(Unplaced("glue", "nobody can"),))
    assert in_words(plan, 1, 1) == "cost 1.0, proved best, 1 order late, 1 step left out"


def test_of_many_better_plans_at_once_only_the_first_is_told(capsys):
    progress = Progress(PROBLEM)
    for place in range(100):
        progress.hear(1 + place / 1000, replace(PLAN, cost=100 - place), None)
    told = [json.loads(line) for line in capsys.readouterr().err.splitlines()]
    assert [(line["cost"], line["late_orders"]) for line in told] == [(100, 1)]
    assert progress.plan is not None
    assert progress.plan.cost == 1


def test_what_is_known_of_a_plan_is_heard_though_no_better_one_comes():
    heard = []
    solve(PROBLEM, seconds=2, workers=1, observer=lambda _, plan, bound: heard.append((plan.cost, bound)))
    bounds = [bound for cost, bound in heard if cost == PLAN.cost]
    assert bounds[0] is None
    assert bounds[1:] == sorted(bounds[1:])
    assert bounds[-1] == pytest.approx(PLAN.cost)


def test_nothing_is_told_before_there_is_a_plan(capsys):
    Progress(PROBLEM).tell(3)
    assert capsys.readouterr().err == ""


def broken_off(monkeypatch, error: Exception, *, after_a_plan: bool) -> Search:
    """A search with a fault in it."""

    def solve(_, *, observer, **__):
        if after_a_plan:
            observer(0.1, PLAN, None)
        raise error

    monkeypatch.setattr(searching, "solve", solve)
    return Search(PROBLEM, None, read_arguments(["solve", "-"]))


def test_a_search_that_breaks_off_leaves_the_best_plan_so_far(monkeypatch, capsys):
    plan = broken_off(monkeypatch, KeyError("glue"), after_a_plan=True).run()
    assert not broken_rules(PROBLEM, plan)
    assert "broke off (KeyError: 'glue')" in capsys.readouterr().err


def test_a_search_that_breaks_off_without_a_plan_says_why(monkeypatch):
    with pytest.raises(PlannerError, match="no plan"):
        broken_off(monkeypatch, PlannerError("no plan"), after_a_plan=False).run()


def test_a_search_that_does_not_end_in_time_leaves_the_best_plan_so_far(monkeypatch):
    never = Event()

    def solve(_, *, observer, **__):
        observer(0.1, PLAN, None)
        never.wait()

    monkeypatch.setattr(searching, "solve", solve)
    monkeypatch.setattr(searching, "GRACE_SECONDS", 0)
    plan = Search(PROBLEM, None, read_arguments(["solve", "-", "--seconds", "0"])).run()
    never.set()
    assert not broken_rules(PROBLEM, plan)


def seconds_for(*options: str) -> float:
    chosen: Namespace = read_arguments(["solve", "p.json", *options])
    return chosen.seconds


def test_a_search_of_so_many_iterations_is_not_ended_by_the_clock():
    assert seconds_for() == 10
    assert seconds_for("--iterations", "5") > 3600
    assert seconds_for("--iterations", "5", "--seconds", "3") == 3
