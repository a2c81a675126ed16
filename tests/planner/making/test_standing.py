"""What has begun stays as it is; all else is batched around it."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Bed, Blank, broken_rules, problem_of, quick_plan
from tests.planner.making.makers import (
    HOUR,
    NOW,
    ORIGIN,
    PAINTED,
    Book,
    begin,
    books,
    groups_at,
    later,
    make_design,
    make_floor,
    make_problem,
    stages_of,
    steps_at,
)

PANEL = ("rip", "glue", "unclamp", "flatten")


def four_trays(**fields):
    book = Book()
    book.order((make_design(**fields), 4))
    return book


def planned_at(work, at=NOW + 10 * HOUR):
    return problem_of(work, origin=ORIGIN, now=at)


def to_do(problem, piece):
    begun = {step.id for step in problem.steps if step.begun}
    return [step.about["stage"] for step in problem.steps if piece in step.about["pieces"] and step.id not in begun]


def without(work, piece):
    return replace(work, pieces=tuple(each for each in work.pieces if each.id != piece))


def test_a_begun_step_keeps_its_id_its_person_and_its_segments():
    work = begin(four_trays(), ["rip"])
    (rip,) = steps_at(planned_at(work), "rip")
    assert (rip.id, rip.begun, rip.segments) == (work.standing[0].id, work.standing[0].begun, work.standing[0].segments)


def test_nothing_that_has_begun_is_planned_again():
    problem = planned_at(begin(four_trays(), ["rip", "glue"]))
    assert to_do(problem, "p1") == ["unclamp", "flatten", "router", "sand", "oil", "wipe", "pack"]


def test_a_glue_up_in_clamps_stays_together_when_a_more_urgent_order_comes():
    book = four_trays()
    work = begin(book, ["rip", "glue"])
    book.order((make_design(), 2), due_days=3)
    work = replace(book.work(), pieces=(*work.pieces, *book.pieces[4:]), standing=work.standing)
    assert {"p1", "p2", "p3", "p4"} in groups_at(planned_at(work), "unclamp")


def test_clamps_stay_taken_until_the_glue_up_is_out_of_them():
    work = begin(four_trays(), ["rip", "glue"])
    problem = planned_at(work)
    (hold,) = [hold for hold in problem.holds if hold.station == "the clamps"]
    assert hold.first == steps_at(problem, "glue")[0].id
    assert hold.last == steps_at(problem, "unclamp")[0].id
    assert hold.load == 4 * 3  # three clamps a panel of 16 1/2 in


def test_the_cure_counts_from_the_glue_up_that_has_begun():
    problem = planned_at(begin(four_trays(), ["rip", "glue", "unclamp"]))
    glue, flatten = steps_at(problem, "glue")[0].id, steps_at(problem, "flatten")[0].id
    assert [link.min_wait for link in problem.links if (link.before, link.after) == (glue, flatten)] == [18 * HOUR]


def test_a_spoilt_piece_leaves_its_lot_and_the_others_go_on():
    work = without(begin(four_trays(), [*PANEL, "router", "sand"]), "p2")
    assert groups_at(planned_at(work), "oil") == [{"p1", "p3", "p4"}]


def test_a_lot_that_has_begun_keeps_its_batch_through_the_details():
    work = begin(four_trays(details=PAINTED), [*PANEL, "router", "sand"])
    problem = planned_at(work)
    batches = {step.about["batch"] for step in problem.steps if step.about["batch_kind"] == "bench"}
    assert batches == {work.standing[-1].batch}


def test_pieces_off_two_bed_loads_make_the_same_lots_after_them_as_before():
    book = Book()
    book.order((make_design(), 8))
    before = {step.id for step in steps_at(make_problem(book), "sand")}
    assert {step.id for step in steps_at(planned_at(begin(book, [*PANEL, "router"])), "sand")} == before
    assert len(before) == 2


def test_an_oiling_on_the_rack_is_wiped_whole():
    work = begin(four_trays(), [*PANEL, "router", "sand", "oil"])
    problem = planned_at(work)
    (wipe,) = steps_at(problem, "wipe")
    assert wipe.about["batch"] == work.standing[-1].batch
    assert [hold.last for hold in problem.holds if hold.station == "the rack"] == [wipe.id]


def test_a_rack_is_free_again_once_its_oiling_is_dry():
    work = begin(four_trays(), [*PANEL, "router", "sand", "oil", "wipe"])
    dry = work.standing[-1].begun.start + 8 + 4 * HOUR
    assert [hold.station for hold in planned_at(work, at=dry - 1).holds] == ["the rack"]
    assert planned_at(work, at=dry).holds == ()


def test_wood_that_is_in_clamps_already_takes_no_blank_from_stock():
    book = Book()
    book.order(make_design(), due_days=8)
    work = begin(book, ["rip", "glue"])
    book.order(make_design(), due_days=12)
    floor = make_floor(blanks=(Blank("b1", "walnut", 16.5, 10.5, 0.75, 1),))
    work = replace(book.work(floor), pieces=(*work.pieces, book.pieces[1]), standing=work.standing)
    blanks = {}
    for step in steps_at(planned_at(work), "router"):
        blanks |= step.about["blanks"]
    assert blanks == {"p2": "b1"}


def test_work_on_a_piece_that_was_spoilt_still_keeps_a_person_busy():
    work = begin(four_trays(), ["rip"])
    during = work.standing[0].begun.start + 1
    gone = replace(work, pieces=(), orders=())
    assert [step.about["stage"] for step in planned_at(gone, at=during).steps] == ["rip"]
    assert planned_at(gone, at=during + 24).steps == ()


def test_what_is_in_clamps_comes_out_of_them_even_where_it_can_go_no_further():
    work = begin(four_trays(), ["rip", "glue"])
    problem = planned_at(replace(work, floor=make_floor(bed=Bed(12, 12, 0.75))))
    plan = quick_plan(problem)
    placed = [stage for stage in stages_of(problem, "p1") if steps_at(problem, stage)[0].id in plan]
    assert placed == ["rip", "glue", "unclamp", "flatten"]


def test_what_is_in_clamps_needs_no_more_of_them():
    work = begin(four_trays(), ["rip", "glue"])
    problem = planned_at(replace(work, floor=make_floor(sizes={"clamps": 2})))
    assert quick_plan(problem).unplaced == ()


def test_a_piece_that_is_off_the_router_no_longer_needs_a_bed():
    work = begin(four_trays(), [*PANEL, "router"])
    problem = planned_at(replace(work, floor=make_floor(bed=Bed(12, 12, 0.75))))
    assert quick_plan(problem).unplaced == ()


def test_an_order_that_is_packed_is_not_in_the_problem():
    book = Book()
    book.order(make_design(finish=None, sanding_minutes=0))
    book.order(make_design())
    work = begin(book, [*PANEL, "router", "pack"], only=["p1"])
    problem = planned_at(work, at=NOW + 2 * 24 * HOUR)
    assert [order.id for order in problem.orders] == ["o2"]
    assert groups_at(problem, "pack") == [{"p2"}]


def test_an_order_that_is_being_packed_is_still_in_the_problem():
    book = Book()
    book.order(make_design(finish=None, sanding_minutes=0))
    work = begin(book, [*PANEL, "router", "pack"])
    last = work.standing[-1].begun.start
    assert [order.id for order in planned_at(work, at=last).orders] == ["o1"]


def test_a_person_who_left_and_a_station_that_went_are_not_looked_for():
    work = begin(four_trays(), ["rip"])
    gone = replace(work.standing[0], begun=replace(work.standing[0].begun, person="Bob", stations=("old saw",)))
    (rip,) = steps_at(planned_at(replace(work, standing=(gone,))), "rip")
    assert (rip.begun.person, rip.begun.stations, rip.stations) == (None, (), ())


@settings(max_examples=25)
@given(books(), st.integers(1, 96))
def test_a_plan_followed_for_a_while_leaves_work_that_can_be_planned_on(book, hours):
    work = book.work()
    problem = make_problem(book)
    plan, now = quick_plan(problem), NOW + hours * HOUR
    begun = {step.id: plan[step.id] for step in problem.steps if step.id in plan and plan[step.id].start < now}
    again = planned_at(later(work, problem, begun), at=now)
    kept = {step.id: step for step in again.steps if step.begun}
    assert all(kept[step].begun.start == placed.start for step, placed in begun.items() if step in kept)
    assert broken_rules(again, quick_plan(again)) == []
