from dataclasses import replace
from datetime import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import Blank, Need, problem_of, quick_plan
from planner.making.blanks import clamps_for
from planner.making.routes import route_of
from tests.planner.making.makers import (
    BALM,
    HOUR,
    MINUTES,
    NOW,
    ORIGIN,
    WARES,
    Book,
    begin,
    books,
    groups_at,
    make_design,
    make_floor,
    make_person,
    make_problem,
    stages_of,
    steps_at,
)

FLOOR = make_floor()
DESIGNS = {design.name: design for design in WARES}
READY_TRAY = Blank("b1", "walnut", 16.5, 10.5, 0.75, 1)


def designs_at(problem, stage):
    return [[DESIGNS[name] for name in step.about["designs"]] for step in steps_at(problem, stage)]


def hands(step):
    return sum(segment.minutes for segment in step.segments if segment.need is Need.HANDS)


@given(books())
def test_every_piece_does_every_stage_of_its_route_once(book):
    problem = make_problem(book)
    for piece in book.pieces:
        route = [stage.name for stage in route_of(piece.design, FLOOR)]
        assert sorted(stages_of(problem, piece.id)) == sorted(route)


@given(books())
def test_a_bed_holds_all_the_pieces_of_its_load_in_one_thickness(book):
    for step in steps_at(make_problem(book), "router"):
        assert sorted(place["piece"] for place in step.about["layout"]) == sorted(step.about["pieces"])
        assert {DESIGNS[name].thickness_in for name in step.about["designs"]} == {step.about["thickness_in"]}
        for place in step.about["layout"]:
            assert place["x_in"] >= 0.25
            assert place["y_in"] >= 0.25


@given(books())
def test_each_bit_is_set_up_once_a_load_and_cuts_what_its_pieces_need(book):
    pieces = {piece.id: piece for piece in book.pieces}
    for step in steps_at(make_problem(book), "router"):
        bits = step.about["bits"]
        wanted = [pieces[piece].design.passes for piece in step.about["pieces"]]
        assert len(set(bits)) == len(bits)
        assert all(bits.index(one.bit) <= bits.index(other.bit) for passes in wanted for one, other in pairwise(passes))
        for bit, minutes in step.about["bit_minutes"]:
            cutting = sum(each.minutes for passes in wanted for each in passes if each.bit == bit)
            assert cutting <= minutes < cutting + 1


@given(books())
def test_a_load_fits_into_the_longest_stretch_that_somebody_works(book):
    for step in [*steps_at(make_problem(book), "router"), *steps_at(make_problem(book), "carve")]:
        assert step.minutes <= 6 * HOUR or len(step.about["pieces"]) == 1


@given(books())
def test_glue_ups_find_clamps_and_oilings_a_place_on_the_rack(book):
    problem = make_problem(book)
    pieces = {piece.id: piece.design for piece in book.pieces}
    assert all(sum(clamps_for(pieces[piece]) for piece in group) <= 16 for group in groups_at(problem, "glue"))
    assert all(len({pieces[piece].finish.id for piece in group}) == 1 for group in groups_at(problem, "oil"))
    assert all(len(group) <= 24 for group in groups_at(problem, "oil"))
    assert all(hold.load <= problem.station[hold.station].capacity for hold in problem.holds)


@given(books())
def test_at_the_bench_a_line_stays_together_and_nobody_stands_longer_than_an_hour_and_a_half(book):
    line = {piece.id: piece.line for piece in book.pieces}
    for step in steps_at(make_problem(book), "sand"):
        assert len({line[piece] for piece in step.about["pieces"]}) == 1
        assert hands(step) <= 90


@given(books(), st.randoms(use_true_random=False))
def test_the_same_work_gives_the_same_steps_in_whatever_order_it_is_told(book, rng):
    work = book.work()
    told = [list(work.pieces), list(work.orders)]
    for part in told:
        rng.shuffle(part)
    again = problem_of(replace(work, pieces=tuple(told[0]), orders=tuple(told[1])), origin=ORIGIN, now=NOW)
    assert {step.id for step in again.steps} == {step.id for step in make_problem(book).steps}


@given(books())
def test_ids_have_no_spaces_and_fit_a_row(book):
    problem = make_problem(book)
    ids = [step.id for step in problem.steps] + [step.about["batch"] for step in problem.steps]
    assert all(" " not in each and len(each) <= 80 for each in ids)


def test_pieces_that_need_the_same_bits_fill_the_bed():
    book = Book()
    for _ in range(4):
        book.order(make_design(size=(11, 11)), due_days=10)
    assert len(groups_at(make_problem(book), "router")) == 1


def test_a_load_that_is_not_full_takes_pieces_that_need_a_bit_more():
    book = Book()
    book.order(DESIGNS["Gull tray"])
    book.order(DESIGNS["Heron board"])
    (step,) = steps_at(make_problem(book), "router")
    assert step.about["bits"] == ["bowl", "down-cut"]


def test_pieces_of_two_thicknesses_lie_on_two_beds():
    book = Book()
    book.order(make_design("thin"), make_design("thick", thickness_in=1))
    assert len(groups_at(make_problem(book), "router")) == 2


def test_an_urgent_piece_takes_no_company_that_is_due_weeks_later():
    book = Book()
    (urgent,) = book.order(make_design(), due_days=4)
    book.order((make_design(), 3), due_days=25)
    assert {urgent.id} in groups_at(make_problem(book), "router")


def test_a_piece_with_a_ready_blank_and_no_time_to_lose_does_not_wait_for_glue_to_cure():
    book = Book()
    (urgent,) = book.order(make_design(), due_days=2)
    book.order((make_design(), 3), due_days=2.5)
    assert {urgent.id} in groups_at(make_problem(book, make_floor(blanks=(READY_TRAY,))), "router")


def test_a_piece_with_a_ready_blank_and_time_to_spare_waits_for_company():
    book = Book()
    book.order(make_design(), due_days=12)
    book.order((make_design(), 3), due_days=12.5)
    assert len(groups_at(make_problem(book, make_floor(blanks=(READY_TRAY,))), "router")) == 1


def test_a_piece_that_is_weeks_less_urgent_is_left_for_a_later_load_however_much_time_there_is():
    book = Book()
    book.order(make_design(), due_days=30)
    book.order(make_design(), due_days=40)
    assert len(groups_at(make_problem(book), "router")) == 2


def test_a_piece_whose_panel_is_flat_does_not_wait_for_one_that_is_still_curing():
    book = Book()
    (urgent,) = book.order(make_design(), due_days=2.4)
    flat = begin(book, ["rip", "glue", "unclamp", "flatten"])
    (other,) = book.order(make_design(), due_days=2.5)
    curing = [replace(step, id=f"other {step.stage}", batch="other", pieces=(other.id,)) for step in flat.standing[:2]]
    pieces = (*flat.pieces, replace(other, past=frozenset({"rip", "glue"})))
    work = replace(book.work(), pieces=pieces, standing=(*flat.standing, *curing))
    assert groups_at(problem_of(work, origin=ORIGIN, now=NOW + 4 * HOUR), "router") == [{urgent.id}, {other.id}]


def test_what_is_late_already_is_made_together():
    book = Book()
    book.order((make_design(), 2), due_days=-3)
    book.order((make_design(), 2), due_days=-20)
    assert len(groups_at(make_problem(book), "router")) == 1


def test_panels_that_find_no_clamps_at_once_are_glued_up_in_even_goes():
    book = Book()
    book.order((make_design(size=(10, 8)), 6))
    problem = make_problem(book, make_floor(sizes={"clamps": 8}))
    assert [len(group) for group in groups_at(problem, "glue")] == [3, 3]


def test_panels_that_one_glue_does_not_stay_open_for_are_glued_up_in_even_goes():
    book = Book()
    book.order((make_design(size=(10, 8)), 6))
    slow = make_floor(sizes={"clamps": 40}, minutes=replace(MINUTES, close=4))  # two within 10 open minutes
    assert [len(group) for group in groups_at(make_problem(book, slow), "glue")] == [2, 2, 2]
    skins_over = make_floor(minutes=replace(MINUTES, close=11))
    assert {len(group) for group in groups_at(make_problem(book, skins_over), "glue")} == {1}


def test_where_people_work_in_short_stretches_loads_are_short():
    book = Book()
    book.order((make_design(size=(11, 11)), 8))
    short = make_person(stretches=[(time(8), time(9)), (time(11), time(12))])
    steps = steps_at(make_problem(book, make_floor(people=(short,))), "router")
    assert all(step.minutes + 4 <= 60 for step in steps)  # with a bit change before it


def test_an_oil_that_goes_tacky_soon_is_put_on_few_pieces_at_once():
    book = Book()
    book.order((make_design(size=(5, 5), finish=BALM), 24))
    groups = groups_at(make_problem(book), "oil")
    assert max(map(len, groups)) == 1 + (45 - 15) // 3


@pytest.mark.parametrize(("rests", "loads"), [((0, None), 1), ((0, 60), 2)])
def test_pieces_that_must_be_carved_within_a_window_wait_for_no_other_line(rests, loads):
    mask, carve, *_ = DESIGNS["House sign"].details
    mask = replace(mask, rest_least_minutes=rests[0], rest_most_minutes=rests[1])
    book = Book()
    for _ in range(2):
        book.order(make_design(details=(mask, carve)))
    assert len(groups_at(make_problem(book), "carve")) == loads


@pytest.mark.parametrize(("rests", "loads"), [((60, 60), 1), ((60, 90), 2)])
def test_pieces_that_rest_by_other_windows_after_carving_are_carved_apart(rests, loads):
    _, carve, brush, *_ = DESIGNS["House sign"].details
    book = Book()
    for rest in rests:
        book.order(make_design(f"rests {rest}", details=(replace(carve, rest_least_minutes=rest), brush)))
    assert len(groups_at(make_problem(book), "carve")) == loads


def test_a_long_line_is_sanded_in_lots_of_an_hour_and_a_half():
    book = Book()
    book.order((make_design(size=(5, 5)), 15))
    assert [len(group) for group in groups_at(make_problem(book), "sand")] == [7, 8]


def test_no_more_is_oiled_at_once_than_the_rack_takes():
    book = Book()
    book.order((make_design(size=(5, 5)), 8))
    groups = groups_at(make_problem(book, make_floor(sizes={"rack": 3})), "oil")
    assert max(map(len, groups)) == 3


def test_a_piece_that_is_sanded_already_is_not_oiled_with_one_that_is_not_glued_up_yet():
    book = Book()
    book.order(make_design(), due_days=10)
    work = begin(book, ["rip", "glue", "unclamp", "flatten", "router", "sand"])
    book.order(make_design(), due_days=10)
    work = replace(book.work(), pieces=(*work.pieces, book.pieces[1]), standing=work.standing)
    assert groups_at(problem_of(work, origin=ORIGIN, now=NOW + 4 * HOUR), "oil") == [{"p1"}, {"p2"}]


def test_pieces_that_leave_the_router_days_apart_are_oiled_apart():
    book = Book()
    book.order(DESIGNS["Gull tray"], due_days=5)
    book.order(DESIGNS["Gull tray"], due_days=25)
    assert len(groups_at(make_problem(book), "oil")) == 2


def test_an_order_of_two_hundred_is_packed_in_goes_that_somebody_has_time_for():
    book = Book()
    book.order((make_design(size=(5, 5), finish=None), 200), due_days=40)
    problem = make_problem(book)
    assert [len(group) for group in groups_at(problem, "pack")] == [100, 100]  # 3 + 2 × 178 would be the most in 6 h
    assert quick_plan(problem).unplaced == ()
