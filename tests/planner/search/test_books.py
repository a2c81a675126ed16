"""The books while a plan is made: room at a station, turns where something is set up, the first spot for a step."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import Begun, Hold, Station
from planner.search.bits import Calendar
from planner.search.books import Books, next_opening
from planner.search.facts import Facts
from planner.search.queue import Queue, Turn
from planner.search.room import FAR, Room
from tests.planner.makers import make_person, make_problem, make_step
from tests.planner.search.test_bits import minutes_of

MINUTES = range(-10, 60)
LOADS = st.lists(
    st.tuples(st.integers(-10, 50), st.integers(0, 20), st.integers(1, 3)).map(
        lambda at: (at[0], at[0] + at[1], at[2])
    ),
    max_size=8,
)


def make_room(loads=(), capacity=4, hours=None):
    room = Room(Station("rack", capacity, hours), 0, None if hours is None else Calendar.of(hours, 0))
    for each in loads:
        room.add(*each)
    return room


def taken(loads, minute):
    return sum(load for start, end, load in loads if start <= minute < end)


@given(LOADS, st.integers(1, 4))
def test_a_room_is_full_where_the_loads_of_a_minute_leave_no_more(loads, load):
    room = make_room(loads)
    free = {minute for minute in range(60) if taken(loads, minute) + load <= 4}
    assert minutes_of(room.room(0, 60, load)) == free
    assert {minute for minute in range(60) if room.has_room_at(minute, load)} == free


@given(LOADS, st.integers(1, 4), st.integers(-10, 59), st.integers(1, 70))
def test_the_first_full_minute_and_the_first_with_room_again(loads, load, start, length):
    room = make_room(loads)
    full = [minute for minute in range(start, start + length) if taken(loads, minute) + load > 4]
    assert room.full_from(start, start + length, load) == (full[0] if full else None)
    if full:
        again = room.room_again(full[0], load)
        assert again == next(minute for minute in range(full[0], 200) if taken(loads, minute) + load <= 4)


@given(LOADS)
def test_what_is_taken_back_leaves_no_trace(loads):
    room = make_room(loads)
    for start, end, load in loads:
        room.add(start, end, -load)
    assert (room.times, room.used) == ([-FAR], [0])


@given(LOADS)
def test_the_stretches_that_are_taken(loads):
    stretches = make_room(loads).taken_between(-10, 60)
    told = {minute: load for start, end, load in stretches for minute in range(start, end)}
    assert told == {minute: taken(loads, minute) for minute in MINUTES if taken(loads, minute)}


def test_a_closed_station_has_room_for_a_hold_but_not_for_a_step():
    room = make_room(hours=((10, 20), (30, 40)))
    assert minutes_of(room.free(5, 30, 1)) == {*range(5, 15), *range(25, 30)}
    assert minutes_of(room.room(5, 30, 1)) == set(range(30))


ROUTER = Station("router", 1, None, "a", {("a", "b"): 10, ("b", "a"): 20, ("a", "c"): 7, ("c", "b"): 5}, 15)
WORK = {name: make_step(name, 30, "alone", at=["router"], state_in=name) for name in "abcd"} | {
    "plain": make_step("plain", 30, "alone", at=["router"])
}
FACTS = Facts(make_problem(*WORK.values(), now=0, stations=[ROUTER])).steps


def make_queue(*turns):
    """A queue that begins with a set up; turns are (step, start, changeover)."""
    queue = Queue(ROUTER, "a")
    for name, start, changeover in turns:
        queue.add(Turn(start, start + 30, FACTS[name], changeover, None, ("router",)))
    return queue


def gaps(queue, name, lower=0):
    return [(gap.opens, gap.closes, gap.changeover, gap.spared) for gap in queue.gaps(FACTS[name], lower)]


def test_an_empty_queue_is_one_gap_with_the_changeover_from_what_is_set_up():
    assert gaps(make_queue(), "a") == [(-FAR, FAR, 0, 0)]
    assert gaps(make_queue(), "b") == [(-FAR, FAR, 10, 0)]


def test_a_step_with_what_is_set_up_next_takes_the_changeover_over():
    assert gaps(make_queue(("b", 100, 10)), "b") == [(-FAR, 90, 10, 10), (130, FAR, 0, 0)]


def test_a_gap_that_would_make_the_next_changeover_longer_is_none():
    assert gaps(make_queue(("b", 100, 10)), "d") == [(130, FAR, 15, 0)]


def test_a_gap_on_the_way_spares_what_the_next_changeover_gets_shorter_by():
    assert gaps(make_queue(("b", 100, 10)), "c") == [(-FAR, 90, 7, 5), (130, FAR, 15, 0)]


def test_a_gap_too_short_for_the_step_and_its_changeover_is_none():
    turns = [("a", 0, 0), ("a", 60, 0), ("a", 139, 0)]
    assert gaps(make_queue(*turns), "a") == [(-FAR, 0, 0, 0), (30, 60, 0, 0), (90, 139, 0, 0), (169, FAR, 0, 0)]
    assert gaps(make_queue(("b", 0, 10), ("plain", 49, 0)), "a") == [(-FAR, -10, 0, 0), (79, FAR, 20, 0)]


def test_a_step_without_a_state_leaves_the_station_as_it_was():
    assert gaps(make_queue(("b", 0, 10), ("plain", 60, 0)), "b", lower=20)[-1] == (90, FAR, 0, 0)
    assert gaps(make_queue(("plain", 0, 0), ("b", 100, 10)), "plain", lower=10)[-1] == (130, FAR, 0, 0)


def test_gaps_are_those_from_the_turn_before_on():
    queue = make_queue(("a", 0, 0), ("a", 60, 0), ("a", 120, 0))
    assert gaps(queue, "a", lower=70) == [(30, 60, 0, 0), (90, 120, 0, 0), (150, FAR, 0, 0)]


def test_a_turn_that_is_taken_back_leaves_the_queue_as_it_was():
    queue = make_queue(("a", 0, 0))
    turn = Turn(60, 90, FACTS["b"], 10, None, ("router",))
    queue.add(turn)
    queue.remove(turn)
    assert gaps(queue, "b") == gaps(make_queue(("a", 0, 0)), "b")


@pytest.mark.parametrize(
    ("minute", "length", "first"), [(0, 5, 10), (12, 5, 12), (16, 5, 30), (16, 3, 16), (40, 1, FAR), (30, 11, FAR)]
)
def test_the_next_opening_is_the_first_that_closes_late_enough(minute, length, first):
    assert next_opening(((10, 20), (30, 40)), minute, length) == first


def first_spot(problem, step, lower=0, **held):
    facts = Facts(problem)
    spot = Books(facts).first_spot(facts.steps[step], lower, held)
    return spot and (spot.start, spot.person, spot.stations, spot.changeover)


def test_a_spot_lies_in_an_opening_long_enough_for_the_hands():
    person = make_person(hours=((480, 500), (600, 1020)))
    assert first_spot(make_problem(make_step("cut", 30), people=[person]), "cut") == (600, "ana", (), 0)


def test_what_runs_alone_before_the_hands_may_begin_in_the_night():
    step = make_step("press", segments=[(100, "alone"), (30, "hands")])
    person = make_person(hours=((1000, 1100),))
    assert first_spot(make_problem(step, people=[person]), "press") == (900, "ana", (), 0)


def test_a_spot_years_away_is_found():
    person = make_person(hours=((480, 500), (20_000_000, 20_000_100)))
    assert first_spot(make_problem(make_step("cut", 60), people=[person]), "cut")[0] == 20_000_000


def test_the_changeover_comes_first_and_needs_the_same_hands():
    step = make_step("cut", 30, at=["router"], state_in="b")
    assert first_spot(make_problem(step, stations=[ROUTER]), "cut") == (490, "ana", ("router",), 10)


def test_a_hold_takes_room_on_top_of_the_step():
    begun = make_step("dry", 60, "alone", at=["rack"], begun=Begun(470, None, ("rack",)))
    problem = make_problem(begun, make_step("oil", 10, "alone", at=["rack"]), stations=[Station("rack", 2)])
    assert first_spot(problem, "oil")[0] == 480
    assert first_spot(problem, "oil", rack=1)[0] == 530


@given(st.data())
def test_books_taken_back_to_a_mark_are_as_they_were(data):
    steps = [
        make_step(f"s{n}", data.draw(st.integers(1, 60)), at=["router"], state_in=data.draw(st.sampled_from("abc")))
        for n in range(4)
    ]
    facts = Facts(make_problem(*steps, stations=[ROUTER], holds=[Hold("router", 1, "s0", "s1")]))
    books = Books(facts)
    fresh = entries(books)
    marks, states = [], []
    for its in facts.steps.values():
        marks.append(books.mark())
        states.append(entries(books))
        spot = books.first_spot(its, 480, {})
        assert spot
        books.take(spot, its)
    for mark, state in zip(reversed(marks), reversed(states), strict=True):
        books.back_to(mark)
        assert entries(books) == state
    assert entries(books) == fresh


def entries(books):
    """All that is written in the books."""
    turns = [(turn.facts.id, turn.start, turn.changeover) for turn in books.queues["router"].turns]
    changeovers = {step: minutes for step, minutes in books.changeovers.items() if minutes}
    return books.free, books.rooms["router"].taken_between(-FAR, FAR), turns, changeovers
