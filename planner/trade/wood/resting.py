"""Boards and blanks that should rest before they are glued or machined."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from planner.trade.amounts import not_below_zero

GAP_POINTS = 2.0
"""Strips of one panel differ by no more, in points of moisture. Common practice, no source."""
SHORTEST_DAYS, LONGEST_DAYS = 7, 14
"""Wood comes to the shop's air in 7 to 14 days. Source: a trade gluing guide."""


def rest_days(moisture_percent: float, shop_percent: float) -> int:
    """About how many days a board rests in the shop before it is glued; 0 where it is near the shop's moisture.

    A week for the first points of difference and two for four or more, as the gluing guide's range; sawn an inch thick.
    Raises PlannerError for a moisture below 0.
    """
    not_below_zero("moisture of a board in per cent", moisture_percent)
    not_below_zero("moisture that the shop’s air keeps in per cent", shop_percent)
    gap = abs(moisture_percent - shop_percent)
    if gap <= GAP_POINTS / 2:
        return 0
    share = min(1.0, (gap - GAP_POINTS / 2) / (2 * GAP_POINTS - GAP_POINTS / 2))
    return ceil(SHORTEST_DAYS + share * (LONGEST_DAYS - SHORTEST_DAYS))


def moisture_findings(strips: Sequence[tuple[str, float]], shop_percent: float) -> tuple[str, ...]:
    """What to say before boards are glued together: names with their moisture in per cent, against the shop's own."""
    said = []
    for name, percent in strips:
        if days := rest_days(percent, shop_percent):
            way = "wetter" if percent > shop_percent else "drier"
            said.append(
                f"{name} is at {percent:.1f} %, {abs(percent - shop_percent):.1f} points {way} than the shop’s air "
                f"keeps wood: let it rest about {days} days."
            )
    if len(strips) > 1:
        low, high = (pick(strips, key=lambda each: each[1]) for pick in (min, max))
        if high[1] - low[1] > GAP_POINTS:
            said.append(
                f"{low[0]} and {high[0]} are {high[1] - low[1]:.1f} points of moisture apart: "
                "glued together, the joint shows later; glue like with like."
            )
    return tuple(said)
