"""Clamps across a glue-up. Source: a trade gluing guide (studylib.net/doc/18296895), clamps 8 to 12 in apart and
1 1/2 to 2 in from the ends."""

import pytest

from planner.making.blanks import clamps_for
from tests.planner.making.makers import make_design

pytestmark = pytest.mark.source("a trade gluing guide: clamps 8 to 12 in apart")


@pytest.mark.parametrize("panel_in", [12, 16, 20, 24, 36, 48])
def test_clamps_stand_no_farther_apart_than_the_guide_allows(panel_in):
    clamps = clamps_for(make_design(size=(panel_in - 2 * 0.25, 8)))
    assert (panel_in - 2 * 2) / (clamps - 1) <= 12
