import sys
from dataclasses import replace
from itertools import count, pairwise
from random import Random

import pytest
from hypothesis import given, settings

from planner import Detail, MakingError, Need, Station, broken_rules, problem_of, quick_plan
from planner.making.routes import route_of, waits_of
from tests.planner.making.makers import (
    HOUR,
    MINUTES,
    NOW,
    ORIGIN,
    PAINTED,
    WARES,
    Book,
    begin,
    books,
    make_design,
    make_floor,
    make_problem,
    stages_of,
    steps_at,
)

FLOOR = make_floor()


def one_piece(**fields):
    book = Book()
    book.order(make_design(**fields))
    return book


def segments(problem, stage):
    (step,) = steps_at(problem, stage)
    return [(segment.minutes, segment.need.value) for segment in step.segments]


def links(problem):
    stage = {step.id: step.about["stage"] for step in problem.steps}
    return {(stage[link.before], stage[link.after]): (link.min_wait, link.max_wait) for link in problem.links}


def test_a_bed_load_is_loaded_cut_bit_by_bit_and_unloaded():
    book = Book()
    book.order((make_design(), 2))
    hands, watch = Need.HANDS.value, Need.WATCH.value
    # load 5 + 2 × 2; bowl 2 × 8.5; change 4; down-cut 2 × 3; unload 2 × 1
    assert segments(make_problem(book), "router") == [(9, hands), (17, watch), (4, hands), (6, watch), (2, hands)]


def test_the_router_is_found_with_the_first_bit_and_left_with_the_last():
    (step,) = steps_at(make_problem(one_piece()), "router")
    assert (step.state_in, step.state_out) == ("bowl", "down-cut")


def test_a_glue_up_stands_alone_in_its_clamps():
    assert segments(make_problem(one_piece()), "glue") == [(7, "hands"), (60, "alone")]


def test_the_laser_is_set_up_and_then_watched_piece_by_piece():
    book = Book()
    book.order((WARES[3], 2))
    assert segments(make_problem(book), "laser") == [(2, "hands"), (30, "watch")] * 2


def test_steps_wait_for_each_other_as_the_route_says():
    waits = links(make_problem(one_piece(details=PAINTED)))
    assert waits["glue", "flatten"] == (18 * HOUR, None)
    assert waits["paint 2", "peel"] == (20, 120)
    assert waits["oil", "wipe"] == (12 * HOUR, 16 * HOUR)
    assert waits["wipe", "pack"] == (0, None)


def test_windows_shut_a_margin_early_unless_too_little_would_be_left_of_them():
    floor = make_floor(minutes=replace(MINUTES, window_margin=30))
    details = (Detail("seal", 3, rest_most_minutes=59), Detail("paint", 5, rest_most_minutes=60))
    problem = make_problem(one_piece(details=details), floor)
    waits = links(problem)
    assert waits["oil", "wipe"] == (12 * HOUR, 16 * HOUR - 30)
    assert (waits["seal", "paint"], waits["paint", "oil"]) == ((0, 59), (0, 30))
    assert sorted(link.margin for link in problem.links if link.max_wait) == [0, 30, 30]


def test_a_box_is_packed_once_all_its_pieces_are_done():
    book = Book()
    book.order(make_design(), make_design("Salt dish", finish=None, size=(5, 5)))
    problem = make_problem(book)
    (pack,) = steps_at(problem, "pack")
    last = {step.id for stage in ("wipe", "sand") for step in steps_at(problem, stage)}
    assert {link.before for link in problem.links if link.after == pack.id} <= last
    assert pack.minutes == 3 + 2 * 2


def test_an_order_holds_every_step_of_its_pieces():
    book = Book()
    pieces = [book.order(make_design()), book.order(make_design("House sign", details=PAINTED))]
    problem = make_problem(book)
    for order, (piece,) in zip(problem.orders, pieces, strict=True):
        stage = {step.id: step.about["stage"] for step in problem.steps}
        assert sorted(stage[step] for step in order.steps) == sorted(stages_of(problem, piece.id))


def test_an_order_keeps_its_due_its_weight_and_its_hardness():
    book = Book()
    book.order(make_design(), due_days=3, hard=True, weight=0.25)
    (order,) = make_problem(book).orders
    assert (order.due, order.weight, order.hard) == (3 * 24 * HOUR, 0.25, True)


def test_a_step_says_what_it_is_as_a_person_would():
    book = Book()
    book.order((make_design(), 2), make_design("Salt dish", size=(5, 5)))
    said = {step.about["what"] for step in make_problem(book).steps}
    assert "Sand 2 Gull trays" in said
    assert "Oil 3 pieces: 2 Gull trays, 1 Salt dish" in said
    assert "Router: 3 pieces, 3/4 in stock, 2 bits" in said
    assert "Pack o1: 3 pieces: 2 Gull trays, 1 Salt dish" in said


def test_a_detail_says_its_text_and_its_colour():
    book = Book()
    (piece,) = book.order(make_design(details=PAINTED))
    book.pieces[0] = type(piece)(piece.id, piece.order, piece.line, piece.design, piece.species, text="Ada & Tom")
    (step,) = steps_at(make_problem(book), "paint 2")
    assert (step.about["text"], step.about["colour"], step.about["kind"]) == ("Ada & Tom", "blue", "paint")


@pytest.mark.parametrize(
    ("role", "first", "design", "why"),
    [
        ("router", "router", {}, "There is no router in this workshop."),
        ("clamps", "glue", {}, "There are no clamps in this workshop."),
        ("rack", "oil", {}, "There is no drying rack in this workshop."),
        ("laser", "laser", {"details": WARES[3].details}, "There is no laser in this workshop."),
    ],
)
def test_work_for_which_there_is_no_place_is_left_unplaced_with_a_reason(role, first, design, why):
    problem = make_problem(one_piece(**design), make_floor(without=[role]))
    unplaced = quick_plan(problem).unplaced
    stages = [problem.step[each.step].about["stage"] for each in unplaced]
    assert (first in stages, "rip" in stages, "pack" in stages) == (True, False, True)
    assert {each.why for each in unplaced} == {why}


@pytest.mark.parametrize("role", ["saw", "planer", "sanding", "paint"])
def test_work_that_can_be_done_anywhere_needs_no_place(role):
    problem = make_problem(one_piece(details=PAINTED), make_floor(without=[role]))
    assert quick_plan(problem).unplaced == ()


@pytest.mark.parametrize(
    ("size", "clamps", "why"),
    [
        ((60, 10), 16, "which the bed of 48 × 24 in doesn't take either way round"),
        ((46, 20), 4, "A panel for Gull tray takes 6 clamps, and the clamps has 4."),
        ((16, 10), 2, "A panel for Gull tray takes 3 clamps, and the clamps has 2."),
    ],
)
def test_a_piece_that_cannot_be_made_here_is_left_out_and_all_else_is_planned(size, clamps, why):
    book = Book()
    book.order(make_design(size=size))
    (other,) = book.order(make_design("Salt dish", size=(10, 5)))
    problem = make_problem(book, make_floor(sizes={"clamps": clamps}))
    plan = quick_plan(problem)
    unplaced = {each.step for each in plan.unplaced}
    assert {step for step in problem.step if "p1" in problem.step[step].about["pieces"]} == unplaced
    assert all(why in each.why for each in plan.unplaced)
    assert all(step.id in plan for step in problem.steps if other.id in step.about["pieces"])
    assert all(why in step.about["impossible"] for step in steps_at(problem, "rip") if "p1" in step.about["pieces"])


def test_a_glued_design_without_passes_is_left_out_and_says_so():
    problem = make_problem(one_piece(passes=()))
    assert {each.step for each in quick_plan(problem).unplaced} == set(problem.step)
    (sand,) = steps_at(problem, "sand")
    assert sand.about["impossible"] == "Gull tray has no router passes yet."


def test_a_glued_design_whose_passes_went_after_it_was_sanded_goes_on():
    book = one_piece()
    begun = begin(book, ["rip", "glue", "unclamp", "flatten", "router", "sand"])
    piece = replace(begun.pieces[0], design=replace(begun.pieces[0].design, passes=()))
    problem = problem_of(replace(begun, pieces=(piece,)), origin=ORIGIN, now=NOW + 24 * HOUR)
    assert quick_plan(problem).unplaced == ()


def test_a_place_that_is_called_like_a_missing_one_is_not_taken_for_it():
    floor = make_floor(without=["laser"])
    floor = replace(floor, stations=(*floor.stations, Station("laser", 3)))
    problem = make_problem(one_piece(details=WARES[3].details), floor)
    assert problem.step[quick_plan(problem).unplaced[0].step].about["stage"] == "laser"


def test_a_piece_of_no_order_is_refused():
    book = one_piece()
    with pytest.raises(MakingError, match="pieces p1: order o1 is not among the orders"):
        replace(book.work(), orders=())


def test_a_detail_that_nobody_knows_is_refused():
    with pytest.raises(MakingError, match="Gull tray asks for “gild”, which is no detail: mask, carve"):
        make_problem(one_piece(details=(Detail("gild", 5),)))


@given(books())
def test_every_piece_rests_as_long_as_its_own_route_says(book):
    problem = make_problem(book)
    at = {(piece, step.about["stage"]): step.id for step in problem.steps for piece in step.about["pieces"]}
    linked = {(link.before, link.after): (link.min_wait, link.max_wait) for link in problem.links}
    for piece in book.pieces:
        for before, after, wait in waits_of(route_of(piece.design, FLOOR), FLOOR):
            assert linked[at[piece.id, before], at[piece.id, after]] == wait


def test_a_shop_without_orders_has_nothing_to_plan():
    assert make_problem(Book()).steps == ()


@settings(max_examples=25)
@given(books())
def test_every_made_problem_has_a_plan_that_keeps_the_rules(book):
    problem = make_problem(book)
    plan = quick_plan(problem)
    assert (broken_rules(problem, plan), plan.unplaced) == ([], ())


def sixty_orders(seed):
    rng, book = Random(seed), Book()  # noqa: S311 - chance for an order book
    for _ in range(60):
        wanted = [(rng.choice(WARES), rng.choice([1, 1, 2, 3])) for _ in range(rng.choice([1, 1, 2]))]
        book.order(*wanted, due_days=rng.randint(4, 25), placed=-rng.randint(0, 5000))
    return book


def bit_changes(bits):
    return sum(one != other for one, other in pairwise(bits))


def one_by_one(book):
    """The bits as they follow each other if each piece is made by itself, the first order first."""
    placed = {order.id: order.placed for order in book.orders}
    for piece in sorted(book.pieces, key=lambda piece: placed[piece.order]):
        yield from (each.bit for each in piece.design.passes)
        yield from (each.bit for each in piece.design.details if each.bit)


@pytest.mark.parametrize("seed", [60, 61, 62])
def test_bits_are_changed_a_quarter_as_often_as_first_come_first_served(seed):
    book = sixty_orders(seed)
    problem = make_problem(book)
    plan = quick_plan(problem)
    loads = sorted((plan[step.id].start, step.about["bits"]) for step in problem.steps if "bits" in step.about)
    assert bit_changes(bit for _, bits in loads for bit in bits) <= bit_changes(one_by_one(book)) / 4


def test_a_book_twice_as_long_is_batched_with_less_than_three_times_the_work():
    """Counted in calls, which no other work on the machine changes; a thousand pieces take about a second here."""
    assert calls_to_batch(orders=250) < 3 * calls_to_batch(orders=125)


def calls_to_batch(orders):
    book, calls = Book(), count()
    for number in range(orders):
        book.order((WARES[number % len(WARES)], 4), due_days=4 + number / 5)
    sys.setprofile(lambda *_: next(calls))
    try:
        make_problem(book)
    finally:
        sys.setprofile(None)
    return next(calls)
