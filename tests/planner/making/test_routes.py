"""Each branch of the route as a reader can follow it."""

import pytest

from planner.making.pieces import Detail, Finish
from planner.making.routes import ROUTE, Together, route_of, still_to_do, together_at, waits_of
from tests.planner.making.makers import DAY, HOUR, PAINTED, make_design, make_floor

FLOOR = make_floor()
GLUED = "rip glue unclamp flatten"


def stages(design, past=(), **how):
    return " ".join(stage.name.replace(" ", "-") for stage in still_to_do(route_of(design, FLOOR, **how), past))


def waits(design):
    return {(before, after): wait for before, after, wait in waits_of(route_of(design, FLOOR), FLOOR)}


def test_a_plain_tray_is_glued_up_routed_sanded_and_oiled():
    assert stages(make_design()) == f"{GLUED} router sand oil wipe pack"


def test_a_single_board_is_cut_and_not_glued():
    assert stages(make_design(is_glued=False)) == "cut router sand oil wipe pack"


@pytest.mark.parametrize("is_glued", [True, False])
def test_a_piece_with_a_ready_blank_starts_at_the_router(is_glued):
    assert stages(make_design(is_glued=is_glued), has_blank=True) == "router sand oil wipe pack"


def test_a_painted_piece_is_masked_before_it_is_carved_and_peeled_after_it_is_painted():
    route = stages(make_design(details=PAINTED))
    assert route == f"{GLUED} router sand mask carve brush seal paint paint-2 peel oil wipe pack"


def test_a_lasered_piece_goes_to_the_laser_once_it_is_sanded():
    assert stages(make_design(details=(Detail("laser", 30),))) == f"{GLUED} router sand laser oil wipe pack"


def test_a_piece_without_a_finish_is_packed_as_it_is():
    assert stages(make_design(finish=None)) == f"{GLUED} router sand pack"


def test_a_piece_takes_no_step_that_its_design_has_not():
    bare = make_design(passes=(), sanding_minutes=0, finish=None, is_glued=False)
    assert stages(bare) == "cut pack"


def test_what_has_begun_is_not_done_again():
    assert stages(make_design(), past={"rip", "glue", "unclamp", "flatten", "router"}) == "sand oil wipe pack"


def test_a_step_that_nobody_ticked_must_have_happened_before_a_later_one():
    assert stages(make_design(), past={"glue", "router"}) == "sand oil wipe pack"


def test_a_panel_rests_from_its_glue_up_until_it_is_machined():
    assert waits(make_design())["glue", "flatten"] == (18 * HOUR, None)


def test_oil_soaks_between_two_limits():
    assert waits(make_design())["oil", "wipe"] == (12 * HOUR, 16 * HOUR)


def test_a_coat_rests_as_long_as_its_detail_says():
    rests = waits(make_design(details=PAINTED))
    assert rests["seal", "paint"] == (60, None)
    assert rests["paint 2", "peel"] == (20, 120)
    assert rests["peel", "oil"] == (12 * HOUR, None)


def test_a_box_waits_for_nobody_but_a_coat_still_has_to_dry_before_it():
    design = make_design(details=(Detail("seal", 3, rest_least_minutes=60, rest_most_minutes=DAY),), finish=None)
    assert waits(design)["seal", "pack"] == (60, None)


def test_clamps_and_drying_take_time_but_no_hands():
    alone = {stage.name: stage.alone_minutes for stage in route_of(make_design(), FLOOR) if stage.alone_minutes}
    assert alone == {"glue": 60, "wipe": 4 * HOUR}


def test_part_of_a_minute_is_a_minute():
    assert {stage.name: stage.minutes for stage in route_of(make_design(), FLOOR)}["router"] == 12  # 6 + 2.5 + 3


def test_the_second_coat_of_paint_is_bench_work_like_the_first():
    assert together_at("paint 2") is Together.LOT


def test_every_kind_of_work_stands_in_the_table_once():
    names = [kind.name for kind in ROUTE]
    assert len(set(names)) == len(names)


def test_every_coat_is_put_on_and_wiped_before_the_next():
    design = make_design(finish=Finish("oil", 3, 60, 240, 2, 300, coats=2))
    assert stages(design).endswith("oil wipe oil-2 wipe-2 pack")
    assert waits(design)["oil 2", "wipe 2"] == waits(design)["oil", "wipe"] == (60, 240)
