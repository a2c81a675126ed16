"""Whatever the problem, a plan keeps the rules, the search makes it no worse, and no plan is below the bound."""

from itertools import islice, permutations

from hypothesis import given, settings

from planner import Problem, broken_rules, quick_plan, solve
from planner.search.listing import ListRule
from tests.planner.makers import problems


@settings(max_examples=150)
@given(problems())
def test_the_list_rule_keeps_every_rule(problem: Problem):
    assert broken_rules(problem, quick_plan(problem)) == []


@settings(max_examples=12)
@given(problems(most_steps=12))
def test_the_search_keeps_every_rule_and_is_never_worse_than_the_list_rule(problem: Problem):
    plan = solve(problem, seconds=1)
    assert broken_rules(problem, plan) == []
    assert plan.cost <= quick_plan(problem).cost


@settings(max_examples=25)
@given(problems(most_steps=4))
def test_no_order_of_the_steps_costs_less_than_the_bound(problem: Problem):
    bound = solve(problem, seconds=0.3).bound
    rule = ListRule(problem)
    for order in islice(permutations(rule.facts.steps), 24):
        plan = rule.plan({step: (float(place),) for place, step in enumerate(order)})
        assert bound <= plan.cost + 0.01
