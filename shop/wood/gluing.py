"""How many panels one person gets into clamps: in one go, and in an evening."""

from __future__ import annotations

from collections.abc import Sequence

from planner import NM_PER_INCH, PlannerError, clamps_for_panel, panels_in_minutes, panels_in_one_go
from shop.figures.models import Figures
from shop.stations.models import Station, Workshop
from shop.stock.models import Glue
from shop.wood.wanted import Wanted
from shop.words import counted

EVENING_MINUTES = 120


def gluing_words(wanted: Sequence[Wanted], figures: Figures) -> str:
    """What limits a go at the longest of these panels; nothing where none is glued, or there is no glue or clamp."""
    glue = Glue.objects.filter(in_use=True).first()
    clamps = Station.objects.filter(role=Station.Role.CLAMPS).first()
    lengths_nm = [each.design.length_nm for each in wanted if each.design.is_glued]
    if glue is None or clamps is None or not lengths_nm:
        return ""
    workshop = Workshop.get()
    try:
        go = panels_in_one_go(
            open_minutes=glue.open_minutes,
            minutes_to_spread_and_close_a_panel=workshop.close_minutes,
            clamps_free=clamps.capacity,
            clamps_a_panel=clamps_for_panel((max(lengths_nm) + 2 * figures.edge_margin_nm) / NM_PER_INCH),
        )
        evening = panels_in_minutes(
            minutes=EVENING_MINUTES,
            press_minutes=glue.clamp_minutes,
            panels_in_a_go=go.panels,
            minutes_to_spread_and_close_a_panel=max(workshop.glue_minutes, workshop.close_minutes),
        )
    except PlannerError as error:
        return str(error)
    return (
        f"{go.why} With {glue.clamp_minutes} minutes in the clamps, two hours of an evening are enough for "
        f"{counted(evening, 'panel')}."
    )
