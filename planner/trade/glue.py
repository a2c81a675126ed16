"""Gluing up a panel: clamps, glue, pressure, and how many panels one person can clamp in one go."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from math import ceil, floor

from planner.trade.amounts import above_zero, not_below_zero
from planner.trade.wood.species import Hardness

CLAMP_FROM_END_IN = 2.0
CLAMP_APART_IN = 10.0
FEWEST_CLAMPS = 2

SPREAD_G_M2 = 225.0
"""Glue on both faces of a joint together: 200 to 250 g/m², a plywood maker's guide to spread."""

M2_AN_IN2 = 0.0254**2
HAIR = 1e-6


def clamps_for_panel(
    length_in: float, *, apart_in: float = CLAMP_APART_IN, from_end_in: float = CLAMP_FROM_END_IN
) -> int:
    """Clamps across the joints of one panel: `from_end_in` from both ends, at most `apart_in` between, two or more.

    All sizes in inches; `caul_width_in` says what narrow outer strips want besides. Raises PlannerError for a size that
    is not above 0. Source: a trade gluing guide (8 to 12 in apart, 1 1/2 to 2 in from the ends).

    >>> clamps_for_panel(36)
    5
    """
    above_zero("length of a panel", length_in)
    above_zero("distance between clamps", apart_in)
    not_below_zero("distance of a clamp from the end", from_end_in)
    return max(FEWEST_CLAMPS, ceil((length_in - 2 * from_end_in) / apart_in - HAIR) + 1)


def pressed_length_in(board_width_in: float) -> float:
    """The length of joint that one clamp presses through a board: twice the board's width, for its force spreads 45
    degrees to each side. Source: Rabiej in a woodworking journal.

    >>> pressed_length_in(6)
    12.0
    """
    above_zero("width of a board", board_width_in)
    return 2.0 * board_width_in


def caul_width_in(length_in: float, clamps: int, outer_strip_in: float) -> float:
    """How wide a caul in front of a panel's outer strip is, so that its clamps press all of the joint; 0 for none.

    A caul widens the strip before the joint, and so the cone of pressure. Sizes in inches; raises PlannerError for one
    that is not above 0. Source: the cone of `pressed_length_in`.

    >>> caul_width_in(48, 12, 2), caul_width_in(48, 5, 2)
    (0.0, 2.8)
    """
    above_zero("length of a joint", length_in)
    above_zero("number of clamps", clamps)
    if clamps * pressed_length_in(outer_strip_in) >= length_in - HAIR:
        return 0.0
    return length_in / clamps / 2 - outer_strip_in


def glue_grams(
    joint_length_in: float, thickness_in: float, joints: int = 1, *, spread_g_m2: float = SPREAD_G_M2
) -> float:
    """Grams of glue for edge joints: their area times the spread, both faces together.

    Lengths in inches, `joints` 0 or more (a panel of n strips has n - 1). Raises PlannerError otherwise. Source: a
    plywood maker's guide, 200 to 250 g/m² for both faces; the glue's own label comes first.

    >>> round(glue_grams(20, 0.75, joints=3), 1)
    6.5
    """
    above_zero("length of a joint", joint_length_in)
    above_zero("thickness of a panel", thickness_in)
    above_zero("spread of glue", spread_g_m2)
    not_below_zero("number of joints", joints)
    return joint_length_in * thickness_in * joints * M2_AN_IN2 * spread_g_m2


@dataclass(frozen=True, slots=True)
class Pressure:
    """A range of clamp pressure on the joint, in pounds per square inch, and how sure it is."""

    from_psi: float
    to_psi: float
    note: str

    def pounds_a_clamp(self, joint_length_in: float, thickness_in: float, clamps: int) -> tuple[float, float]:
        """What each of `clamps` presses with, at both ends of the range: pressure times the joint's area, shared.

        >>> clamp_pressure(Hardness.MEDIUM).pounds_a_clamp(20, 0.9, 3)
        (900.0, 1200.0)
        """
        for name, value in (("length of a joint", joint_length_in), ("thickness of a panel", thickness_in)):
            above_zero(name, value)
        above_zero("number of clamps", clamps)
        share_in2 = joint_length_in * thickness_in / clamps
        return self.from_psi * share_in2, self.to_psi * share_in2


_PRESSURES_PSI = {Hardness.SOFT: (100.0, 150.0), Hardness.MEDIUM: (150.0, 200.0), Hardness.HARD: (200.0, 300.0)}
_SOURCES_DISAGREE = (
    "Sources disagree: a trade gluing guide gives this range, a glue maker 175 to 250 psi for hard wood, and a test "
    "paper of 2007 up to 1,200 psi for flat-sawn sugar maple; the glue's label comes first."
)


def clamp_pressure(hardness: Hardness) -> Pressure:
    """The pressure that a gluing guide asks for on a joint, by hardness, with the note that sources disagree.

    >>> clamp_pressure(Hardness.HARD).to_psi
    300.0
    """
    return Pressure(*_PRESSURES_PSI[hardness], _SOURCES_DISAGREE)


class WaterClass(IntEnum):
    """How well a glue joint withstands water, EN 204: D1 dry rooms only, D4 long wetting; a higher class does all
    that a lower one does."""

    D1 = 1
    D2 = 2
    D3 = 3
    D4 = 4


FOR_SERVING = WaterClass.D3
"""The least for boards and trays that are washed. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class InOneGo:
    """How many panels can be clamped in one go, and in one sentence what stands in the way of more."""

    panels: int
    why: str


def panels_in_one_go(
    *, open_minutes: float, minutes_to_spread_and_close_a_panel: float, clamps_free: int, clamps_a_panel: int
) -> InOneGo:
    """How many panels one person spreads and clamps before the first glue skins over, with the clamps at hand.

    The first panel's glue must still be open when the last is closed, so that any of them can be shifted: minutes a
    panel times panels stay within `open_minutes` (the glue's label says it; warm, dry air shortens it). Raises
    PlannerError for minutes and clamps that make no sense.

    >>> panels_in_one_go(open_minutes=10, minutes_to_spread_and_close_a_panel=4, clamps_free=14, clamps_a_panel=4).why
    'The glue: 2 panels at 4 minutes each close within its 10 open minutes, a third would not.'
    """
    not_below_zero("open time in minutes", open_minutes)
    above_zero("time to spread and close a panel in minutes", minutes_to_spread_and_close_a_panel)
    not_below_zero("number of free clamps", clamps_free)
    above_zero("number of clamps a panel takes", clamps_a_panel)
    by_glue = floor(open_minutes / minutes_to_spread_and_close_a_panel + HAIR)
    by_clamps = clamps_free // clamps_a_panel
    panels = min(by_glue, by_clamps)
    if by_glue <= by_clamps:
        each = f"{minutes_to_spread_and_close_a_panel:g} minutes each close within its {open_minutes:g} open minutes"
        return InOneGo(panels, f"The glue: {_panels(panels)} at {each}, {_one_more(panels)} would not.")
    rest = f"{clamps_free} clamps free, {clamps_a_panel} a panel"
    return InOneGo(panels, f"The clamps: {rest} is enough for {_panels(panels)}, not for {_one_more(panels)}.")


def panels_in_minutes(
    *, minutes: float, press_minutes: float, panels_in_a_go: int, minutes_to_spread_and_close_a_panel: float
) -> int:
    """How many panels one person gets into clamps within so many minutes when clamps come free only after pressing.

    A go is spread and closed, pressed for `press_minutes` from its last panel, and the clamps go to the next. Raises
    PlannerError for minutes and panels that make no sense.

    >>> panels_in_minutes(minutes=90, press_minutes=60, panels_in_a_go=2, minutes_to_spread_and_close_a_panel=5)
    4
    """
    not_below_zero("minutes at hand", minutes)
    not_below_zero("time in clamps in minutes", press_minutes)
    not_below_zero("number of panels in a go", panels_in_a_go)
    above_zero("time to spread and close a panel in minutes", minutes_to_spread_and_close_a_panel)
    if panels_in_a_go == 0:
        return 0
    a_go = panels_in_a_go * minutes_to_spread_and_close_a_panel + press_minutes
    whole_goes = floor(minutes / a_go + HAIR)
    rest = floor((minutes - whole_goes * a_go) / minutes_to_spread_and_close_a_panel + HAIR)
    return whole_goes * panels_in_a_go + min(panels_in_a_go, max(0, rest))


_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def _panels(count: int) -> str:
    return f"{count or 'no'} panel{'' if count == 1 else 's'}"


def _one_more(count: int) -> str:
    return f"a{'n' if count == 7 else ''} {_ORDINALS[count]}" if count < len(_ORDINALS) else "one more"
