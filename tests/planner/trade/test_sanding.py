"""Sequences of grits."""

import pytest

from planner.errors import PlannerError
from planner.trade.sanding import grit_findings


def test_a_sequence_step_by_step_is_well():
    assert grit_findings([80, 120, 180, 220]) == ()


def test_a_jump_and_a_step_back_are_told():
    assert grit_findings([80, 220]) == ("From P80 to P220 is too far: the scratches stay; put a grit between.",)
    assert grit_findings([150, 120]) == ("P120 is not finer than P150.",)


def test_an_unknown_grit_is_refused():
    with pytest.raises(PlannerError, match="P90 is no grit"):
        grit_findings([90, 120])
