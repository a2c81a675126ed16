from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Point, box

from planner.errors import MakingError
from planner.layout.tabs import tab_places
from tests.planner.layout.makers import HEART, circle


@given(st.sampled_from([box(0, 0, 15, 11), circle(9), HEART, box(2, 2, 3, 3)]), st.floats(1, 12))
def test_tabs_stand_on_the_outline_evenly_and_three_at_least(outline, apart_in):
    places = tab_places(outline, apart_in)
    along = sorted(outline.exterior.project(Point(place)) for place in places)
    gaps = [later - before for before, later in pairwise(along)]
    assert len(places) >= 3
    assert all(outline.exterior.distance(Point(place)) < 1e-9 for place in places)
    assert max(gaps) <= apart_in + 1e-6
    assert max(gaps) - min(gaps) < 1e-6


def test_tabs_keep_away_from_corners():
    tray = box(0, 0, 16, 8)
    corners = MultiPoint(tray.exterior.coords)
    assert min(corners.distance(Point(place)) for place in tab_places(tray)) >= 3.5


@pytest.mark.parametrize("apart_in", [0, -1, float("nan")])
def test_tabs_that_stand_no_inches_apart_are_refused(apart_in):
    with pytest.raises(MakingError, match="more than 0 inches apart"):
        tab_places(box(0, 0, 4, 4), apart_in)
