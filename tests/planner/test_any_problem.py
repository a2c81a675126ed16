"""Whatever the problem, a plan keeps the rules."""

from hypothesis import given, settings

from planner import Problem, broken_rules, quick_plan
from tests.planner.makers import problems


@settings(max_examples=150, deadline=None)
@given(problems())
def test_the_list_rule_keeps_every_rule(problem: Problem):
    assert broken_rules(problem, quick_plan(problem)) == []
