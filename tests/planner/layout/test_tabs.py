from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Point, box

from planner.errors import MakingError
from planner.layout.tabs import tab_places, tabs_for
from tests.planner.layout.makers import HEART, circle


@given(st.sampled_from([box(0, 0, 15, 11), circle(9), HEART, box(2, 2, 3, 3)]), st.integers(2, 12))
def test_as_many_tabs_as_asked_stand_evenly_on_the_outline(outline, count):
    places = tab_places(outline, count)
    along = sorted(outline.exterior.project(Point(place)) for place in places)
    gaps = [later - before for before, later in pairwise(along)]
    assert len(places) == count
    assert all(outline.exterior.distance(Point(place)) < 1e-9 for place in places)
    assert max(gaps) - min(gaps) < 1e-6


def test_tabs_keep_away_from_corners():
    tray = box(0, 0, 16, 8)
    corners = MultiPoint(tray.exterior.coords)
    assert min(corners.distance(Point(place)) for place in tab_places(tray, 4)) >= 3.5


def test_where_nobody_has_said_a_tab_holds_every_8_inches_and_three_hold_the_smallest():
    assert tabs_for(box(0, 0, 2, 2)) == 3
    assert tabs_for(box(0, 0, 12, 8)) == 5


def test_a_piece_may_have_no_tabs_but_not_fewer():
    assert tab_places(box(0, 0, 4, 4), 0) == ()
    with pytest.raises(MakingError, match="0 tabs or more"):
        tab_places(box(0, 0, 4, 4), -1)
