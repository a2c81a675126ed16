"""The search's frame: the best plan and its bound, when it ends, and several workers at once."""

from __future__ import annotations

import random
from dataclasses import replace
from threading import Thread

import pytest

from planner import Plan, Status, distance_words
from planner.search.best import Best
from planner.search.loop import improve
from planner.search.stop import ITERATION_SECONDS, Stop

CHANCE = random.Random(1)  # noqa: S311 - a repeatable test


class Clock:
    """Shows what it is set to."""

    def __init__(self) -> None:
        self.seconds = 50.0

    def __call__(self) -> float:
        return self.seconds


def plan_of(cost: float) -> Plan:
    return Plan(Status.FEASIBLE, cost, ())


def best_of(cost: float = 100, *, gap: float = 0, moved=lambda _: 0, keeps_rules=lambda _: True) -> Best:
    return Best(plan_of(cost), moved=moved, keeps_rules=keeps_rules, gap=gap)


def after(iterations: int) -> Stop:
    stop = Stop(60)
    stop.iterations = iterations
    return stop


def test_a_cheaper_plan_is_kept_and_told_with_the_bound_and_a_dearer_one_is_not():
    best, told = best_of(100), []
    best.listeners.append(lambda plan, bound: told.append((plan.cost, bound)))
    best.raise_bound(40)
    assert [best.offer(plan_of(cost)) for cost in (120, 100, 90, 95, 80)] == [0, 0, 10, 0, 10]
    assert best.plan.cost == 80
    assert told == [(100, 40), (90, 40), (80, 40)]


def test_a_bound_is_told_when_it_has_risen_noticeably_or_proves_the_plan():
    best, told = best_of(100), []
    best.listeners.append(lambda _, bound: told.append(bound))
    for bound in (40, 40.2, 30, 40.4, 40.6, 99.98, 99.995, 99.999):
        best.raise_bound(bound)
    assert told == [40, 40.6, 99.98, 99.995]


@pytest.mark.parametrize("cost", [-5e6, -3, 0.0, 7.77, 9_999.99, 10_000.01, 123_456_789.0])
def test_what_is_proved_is_so_by_the_contract_whatever_its_millionth_is_of(cost):
    best, bound = best_of(cost), cost - 1e6
    best.raise_bound(bound)
    while not best.is_proved():
        bound += (cost - bound) / 100
        best.raise_bound(bound)
    assert cost - bound <= max(0.01, 1e-6 * min(abs(cost), abs(bound)))
    assert distance_words(cost, bound) == "proved best"


def test_a_plan_that_breaks_a_rule_is_not_kept_however_cheap():
    best = best_of(100, keeps_rules=lambda plan: plan.cost > 50)
    assert (best.offer(plan_of(10)), best.offer(plan_of(60))) == (0, 40)
    assert best.plan.cost == 60


def test_what_a_plan_moves_counts_with_its_cost():
    best = best_of(100, moved=lambda plan: 30 if plan.cost < 100 else 0)
    assert best.offer(plan_of(80)) == 0
    assert best.offer(plan_of(60)) == 10


def test_the_bound_only_rises_and_proves_the_plan_when_it_reaches_its_cost():
    best = best_of(100)
    assert not best.is_proved()
    for bound, proved in ((90, False), (80, False), (99.98, False), (99.995, True)):
        best.raise_bound(bound)
        assert best.is_proved() is proved
    assert best.bound == 99.995


def test_a_plan_within_the_gap_is_good_enough_but_not_proved():
    best = best_of(100, gap=0.1)
    best.raise_bound(90)  # 100 is 11 % above it
    assert not best.is_good_enough()
    best.raise_bound(91)
    assert best.is_good_enough()
    assert not best.is_proved()


def test_a_search_ends_after_its_seconds():
    clock = Clock()
    stop = Stop(10, clock)
    clock.seconds += 4
    assert (stop.seconds_gone(), stop.seconds_left(), stop.share_gone(), stop.reached()) == (4, 6, 0.4, False)
    clock.seconds += 7
    assert (stop.seconds_left(), stop.share_gone(), stop.reached()) == (0, 1, True)


def test_a_search_without_seconds_is_over_at_once():
    assert Stop(0, Clock()).reached()
    assert Stop(0, Clock()).share_gone() == 1


def test_a_search_by_iterations_is_as_far_as_it_has_counted_whatever_the_clock_shows():
    clock = Clock()
    stop = Stop(60, clock)
    stop.iterations = 4
    clock.seconds += 30
    stop.count()
    assert (stop.is_repeatable, stop.share_gone(), stop.reached()) == (True, 0.25, False)
    assert stop.seconds_in_all == pytest.approx(4 * ITERATION_SECONDS)
    for _ in range(3):
        stop.count()
    assert stop.reached()


def test_a_part_ends_with_its_own_seconds_or_with_the_whole():
    clock = Clock()
    whole = Stop(10, clock)
    short, long = whole.part(3), whole.part(100)
    clock.seconds += 4
    assert (short.reached(), long.reached(), whole.reached()) == (True, False, False)
    assert long.seconds_left() == 6
    clock.seconds += 6
    assert long.reached()


def test_a_part_by_iterations_counts_for_the_whole_too():
    whole = after(3)
    part = whole.part(0.001, iterations=2)
    part.count()
    assert not part.reached()
    part.count()
    assert part.reached()
    assert not whole.reached()
    whole.count()
    assert whole.reached()


def test_what_runs_is_interrupted_when_the_search_is_to_end_now_but_not_what_has_ended():
    stop, told = Stop(60), []
    with stop.interrupts(lambda: told.append("over")):
        pass
    with stop.interrupts(lambda: told.append("running")):
        stop.now()
    assert told == ["running"]
    assert stop.reached()
    assert stop.part(10).reached()


def cheaper_by_one(plan: Plan, chance: random.Random, stop: Stop) -> Plan:
    return replace(plan, cost=plan.cost - 1)


def nothing(plan: Plan, chance: random.Random, stop: Stop) -> None:
    return None


def fails(plan: Plan, chance: random.Random, stop: Stop) -> Plan:
    raise ZeroDivisionError("a fault in a move")


def test_each_iteration_is_one_move_from_the_best_plan():
    best = best_of(100)
    improve(best, [[cheaper_by_one]], stop=after(5), chance=CHANCE)
    assert best.plan.cost == 95


def test_a_search_ends_as_soon_as_the_plan_is_good_enough():
    best = best_of(100)
    best.raise_bound(97)
    improve(best, [[cheaper_by_one, nothing], [cheaper_by_one]], stop=Stop(60), chance=CHANCE)
    assert best.plan.cost == 97


def test_several_workers_better_one_plan_and_the_last_does_something_else_first():
    best, told = best_of(100), []
    teams = [[cheaper_by_one]] * 3
    improve(best, teams, stop=Stop(0.1), chance=CHANCE, aside=lambda: told.append("aside"))
    assert best.plan.cost < 90
    assert told == ["aside"]


def test_what_a_move_raises_is_raised_by_the_search():
    for teams in ([[fails]], [[nothing], [fails]], [[fails], [nothing], [nothing]]):
        with pytest.raises(ZeroDivisionError, match="a fault in a move"):
            improve(best_of(), teams, stop=Stop(0.2), chance=CHANCE)


def test_workers_without_moves_end_at_once():
    improve(best_of(), [[], []], stop=Stop(60), chance=CHANCE)


def test_offers_from_many_threads_leave_the_cheapest():
    best = best_of(1000)
    told: list[float] = []
    best.listeners.append(lambda plan, _: told.append(plan.cost))
    threads = [
        Thread(target=lambda first=first: [best.offer(plan_of(cost)) for cost in range(first, 0, -4)])
        for first in (999, 998, 997, 996)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert best.plan.cost == 1
    assert told == sorted(told, reverse=True)
