"""What the search asks of a problem."""

from planner import Begun, Link
from planner.search.facts import Facts, InForce
from tests.planner.makers import make_plan, make_problem, make_step, put


def test_what_a_step_needs_is_all_that_it_waits_for_and_has_not_begun():
    steps = [make_step("old", begun=Begun(470, "ana", ())), *map(make_step, ("cut", "sand", "oil", "pack"))]
    links = [Link("old", "sand"), Link("cut", "sand"), Link("sand", "oil"), Link("oil", "pack")]
    facts = Facts(make_problem(*steps, links=links))
    assert facts.needed_for(["oil"]) == {"cut", "sand", "oil"}
    assert facts.needed_for(["old"]) == set()


def test_another_person_at_the_same_minute_is_no_move():
    problem = make_problem(make_step("cut"), make_step("oil"))
    rows = {name: put(problem, name, start, "ana") for name, start in (("cut", 480), ("oil", 510))}
    in_force = InForce(rows, frozenset({"cut", "oil"}), 2.5)
    plan = make_plan(problem, put(problem, "cut", 480, "ben"), put(problem, "oil", 520, "ana"))
    assert in_force.staying(plan) == {"cut"}
    assert in_force.moved(plan) == 2.5
