"""How long a step of the demo's past may overrun."""

from datetime import UTC, datetime

from planner import Link, Need, Person, Placed, Plan, Problem, Segment, Station, StationNeed, Status, Step
from shop.demo.slack import Slack

WORK = (Segment(30, Need.HANDS),)
CLAMPED = (Segment(10, Need.HANDS), Segment(60, Need.ALONE))


def make_slack(*starts: int, segments=WORK, links=(), people=("ana", "ben"), stations=("saw", "bench")) -> Slack:
    """Steps a, b … each with its own person and place unless told otherwise, starting then."""
    steps = [Step(name, segments, "wood", (StationNeed((stations[n],)),)) for n, name in enumerate("ab"[: len(starts)])]
    problem = Problem(
        origin=datetime(2026, 6, 1, tzinfo=UTC),
        now=0,
        people=tuple(Person(name, frozenset({"wood"}), ((0, 900),)) for name in set(people)),
        stations=tuple(Station(name) for name in set(stations)),
        steps=tuple(steps),
        links=tuple(links),
    )
    minutes = sum(segment.minutes for segment in segments)
    placed = [
        Placed(step.id, start, start + minutes, people[n], (stations[n],))
        for n, (step, start) in enumerate(zip(steps, starts, strict=True))
    ]
    return Slack(problem, Plan(Status.FEASIBLE, 0, tuple(placed)))


def after_a(slack: Slack) -> int | None:
    return slack.after(slack.plan["a"])


def test_the_same_person_is_not_kept_waiting():
    assert after_a(make_slack(0, 35, people=("ana", "ana"))) == 5


def test_a_person_is_free_again_while_glue_sets():
    assert after_a(make_slack(0, 12, segments=CLAMPED, people=("ana", "ana"))) == 2


def test_the_same_place_is_not_kept_waiting():
    assert after_a(make_slack(0, 33, stations=("saw", "saw"))) == 3


def test_wood_still_rests_as_long_as_it_must():
    assert after_a(make_slack(0, 100, links=[Link("a", "b", 66)])) == 4


def test_a_step_that_starts_a_window_keeps_to_its_minutes():
    assert after_a(make_slack(0, 100, links=[Link("a", "b", 60, 120)])) is None


def test_where_nothing_waits_an_hour_may_go_by():
    assert after_a(make_slack(0)) == 60
