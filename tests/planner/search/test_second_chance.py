"""What was given up is placed after all, with only what it cannot be done without."""

from planner import Link, Unplaced, broken_rules
from planner.search.facts import Facts
from planner.search.second_chance import with_all_that_fits
from tests.planner.makers import make_person, make_plan, make_problem, make_step


def after_all(problem):
    """The plan made of one in which everything was given up."""
    nothing = make_plan(problem, unplaced=[Unplaced(step.id, "Given up.") for step in problem.steps])
    return with_all_that_fits(Facts(problem), nothing)


def test_everything_that_was_given_up_is_placed():
    problem = make_problem(make_step("cut"), make_step("sand"), make_step("pack"), links=[Link("cut", "sand")])
    plan = after_all(problem)
    assert not plan.unplaced
    assert broken_rules(problem, plan) == []


def test_two_steps_that_must_follow_in_time_are_placed_together():
    person = make_person(hours=((480, 1020), (1920, 2460)))
    links = [Link("oil", "wipe", 720, 960)]
    problem = make_problem(make_step("oil", 30), make_step("wipe", 10), people=[person], links=links)
    assert {row.step: row.start for row in after_all(problem).placed} == {"oil": 930, "wipe": 1920}


def test_the_first_of_a_chain_is_placed_though_its_end_has_no_start():
    problem = make_problem(make_step("cut"), make_step("engrave", skill="magic"), links=[Link("cut", "engrave")])
    plan = after_all(problem)
    assert [row.step for row in plan.placed] == ["cut"]
    assert [left.step for left in plan.unplaced] == ["engrave"]
    assert broken_rules(problem, plan) == []
