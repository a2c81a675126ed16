"""What a cluster was given up with is placed after all, with only what it cannot be done without."""

from planner import Link, broken_rules
from planner.search.drafting import plan_of
from planner.search.listing import ListRule
from planner.search.second_chance import give_second_chances
from tests.planner.makers import make_person, make_problem, make_step


def after_all(problem, *, hopeless=frozenset()):
    """The plan of a draft in which everything was given up."""
    draft = ListRule(problem).new_draft()
    draft.out |= set(draft.facts.steps)
    give_second_chances(draft, set(hopeless))
    return plan_of(draft)


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
    plan = after_all(problem, hopeless={"engrave"})
    assert [row.step for row in plan.placed] == ["cut"]
    assert [left.step for left in plan.unplaced] == ["engrave"]
    assert broken_rules(problem, plan) == []
