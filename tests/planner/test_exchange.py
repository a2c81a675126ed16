"""The plan exchange: what is written is read back the same, and what breaks the format is refused with its place."""

import json

import pytest
from hypothesis import given, settings

from planner import (
    Plan,
    PlanError,
    ProblemError,
    plan_from_json,
    plan_to_json,
    problem_from_json,
    problem_to_json,
    quick_plan,
    read_problem,
    write_plan,
)
from tests.planner.documents import GOOD, changed
from tests.planner.makers import problems


def test_a_good_problem_is_read():
    problem = problem_from_json(GOOD)
    assert problem.step["cut"].about == {"kind": "route"}
    assert problem.links[0].waits == ((0, 60), (2880, None))
    assert problem.station["router"].changeover_minutes("bowl", "vee") == 7
    assert problem.prices.unplaced == 100_000


@given(problems())
def test_a_problem_written_and_read_is_the_same(problem):
    assert problem_from_json(json.loads(json.dumps(problem_to_json(problem)))) == problem


@settings(max_examples=30)
@given(problems())
def test_a_plan_written_and_read_is_the_same(problem):
    plan = quick_plan(problem)
    again = plan_from_json(json.loads(json.dumps(plan_to_json(plan))))
    assert isinstance(again, Plan)
    assert plan_to_json(again) == plan_to_json(plan)


@pytest.mark.parametrize(
    ("document", "words"),
    [
        ([], ["problem", "object"]),
        (changed("format", "other"), ["format", "workshop-steps/1"]),
        (changed("origin", "2026-03-02T00:00:00"), ["origin", "offset"]),
        (changed("origin", "soon"), ["origin", "soon"]),
        (changed("now", "DROP"), ["now", "missing"]),
        (changed("now", True), ["now", "whole number", "true"]),
        (changed("now", 1.5), ["now", "1.5"]),
        (changed("people", {}), ["people", "list"]),
        (changed("people", 0, "id", "DROP"), ["people[0]", "id"]),
        (changed("people", 0, "hours", [[480, 470]]), ["people ana", "hours", "470"]),
        (changed("people", 0, "hours", [[480, 720], [700, 800]]), ["people ana", "hours"]),
        (changed("people", 0, "hours", [[480, True]]), ["people ana", "hours"]),
        (changed("people", 0, "skills", "wood"), ["people ana", "skills"]),
        (changed("stations", 0, "capacity", 0), ["stations router", "capacity"]),
        (changed("stations", 0, "capacity", 2), ["stations router", "capacity 1"]),
        (changed("stations", 1, "id", "router"), ["stations", "router", "twice"]),
        (changed("stations", 0, "changeover_default", -1), ["stations router", "changeover"]),
        (changed("steps", 0, "segments", []), ["steps cut", "segments"]),
        (changed("steps", 0, "segments", 0, "minutes", 0), ["steps cut", "segments[0]", "minute"]),
        (changed("steps", 0, "segments", 0, "minutes", -5), ["steps cut", "-5"]),
        (changed("steps", 0, "segments", 0, "need", "feet"), ["steps cut", "need", "feet"]),
        (changed("steps", 0, "skill", None), ["steps cut", "skill"]),
        (changed("steps", 0, "stations", 0, "any_of", ["lathe"]), ["steps cut", "lathe"]),
        (changed("steps", 0, "stations", 0, "any_of", []), ["steps cut", "any_of"]),
        (changed("steps", 0, "stations", 0, "load", 0), ["steps cut", "load"]),
        (changed("steps", 0, "begun", {"start": 481, "person": "ana", "stations": ["router"]}), ["steps cut", "begun"]),
        (changed("steps", 0, "begun", {"start": 4, "person": "zoe", "stations": ["router"]}), ["steps cut", "zoe"]),
        (changed("steps", 0, "begun", {"start": 4, "person": "ana", "stations": []}), ["steps cut", "begun"]),
        (changed("steps", 1, "id", "cut"), ["steps", "cut", "twice"]),
        (changed("links", 0, "to", "ghost"), ["links cut -> ghost", "ghost"]),
        (changed("links", 0, "min_wait", -1), ["links cut -> oil", "-1"]),
        (changed("links", 0, "max_wait", "x"), ["links cut -> oil", "max_wait"]),
        (changed("links", 0, "also", [[5]]), ["links cut -> oil", "also"]),
        (changed("links", 0, "to", "cut"), ["links", "circle"]),
        (changed("links", GOOD["links"] * 2), ["links cut -> oil", "twice"]),
        (changed("links", [*GOOD["links"], {"from": "oil", "to": "cut", "min_wait": 0}]), ["links", "circle"]),
        (changed("holds", 0, "station", "shelf"), ["holds cut -> oil", "shelf"]),
        (changed("holds", 0, "load", 0), ["holds cut -> oil", "load"]),
        (changed("orders", 0, "steps", []), ["orders o1", "steps"]),
        (changed("orders", 0, "steps", ["ghost"]), ["orders o1", "ghost"]),
        (changed("orders", 0, "weight", -1), ["orders o1", "weight"]),
        (changed("orders", 0, "weight", float("nan")), ["orders o1", "weight"]),
        (changed("orders", 0, "hard", 1), ["orders o1", "hard"]),
        (changed("cost", "late_hour", "dear"), ["cost", "late_hour"]),
        (changed("cost", "late_hour", -1), ["cost", "late_hour"]),
    ],
)
def test_a_problem_that_breaks_the_format_is_refused_with_field_and_id(document, words):
    with pytest.raises(ProblemError) as refused:
        problem_from_json(document)
    sentence = str(refused.value)
    assert "\n" not in sentence
    assert all(word in sentence for word in words), sentence


def test_a_step_takes_at_most_one_station_with_states():
    document = changed("stations", 1, {"id": "rack", "capacity": 1, "hours": None, "start_state": "x"})
    document["steps"][0]["stations"].append({"any_of": ["rack"], "load": 1})
    with pytest.raises(ProblemError, match=r"steps cut.*states"):
        problem_from_json(document)


@pytest.mark.parametrize("text", ["", "{", '{"now": NaN}', "[" * 100_000, "\x00"])
def test_what_is_not_json_is_refused_in_one_line(tmp_path, text):
    (tmp_path / "p.json").write_text(text)
    with pytest.raises(ProblemError, match="problem"):
        read_problem(tmp_path / "p.json")


@pytest.mark.parametrize("name", ["status", "cost", "placed", "unplaced", "missed"])
def test_a_plan_without_a_field_is_refused(name):
    document = plan_to_json(quick_plan(problem_from_json(GOOD)))
    del document[name]
    with pytest.raises(PlanError, match=name):
        plan_from_json(document)


def test_a_plan_is_written_whole_or_not_at_all(tmp_path):
    plan = quick_plan(problem_from_json(GOOD))
    write_plan(plan, tmp_path / "plan.json")
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]
    assert plan_from_json(json.loads((tmp_path / "plan.json").read_text())).cost == plan.cost
