"""At the glue-up: how many panels go into clamps in one go and in an evening, how hard to press, what water does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner import (
    FOR_SERVING,
    NM_PER_INCH,
    InOneGo,
    PlannerError,
    WaterClass,
    clamp_pressure,
    clamps_for_panel,
    panels_in_minutes,
    panels_in_one_go,
)
from shop.designs import shapes
from shop.figures.models import Figures
from shop.stations.models import Station, Workshop
from shop.stock.models import Glue
from shop.wood.wanted import Wanted
from shop.words import counted

EVENING_MINUTES = 120
POUNDS = 50
"""Pounds a clamp are told to the next 50: nobody reads a clamp closer."""


@dataclass(frozen=True)
class Gluing:
    """What to say beside the clamps."""

    panels_in_a_go: int = 0
    says: str = ""
    pressures: tuple[str, ...] = ()
    pressure_note: str = ""
    water: str = ""


def gluing(wanted: Sequence[Wanted], figures: Figures) -> Gluing:
    """For the panels among these; nothing where none is glued, or there is no glue or clamp."""
    glue = Glue.objects.filter(in_use=True).first()
    clamps = Station.objects.filter(role=Station.Role.CLAMPS).first()
    glued = [each for each in wanted if each.design.is_glued]
    if glue is None or clamps is None or not glued:
        return Gluing()
    try:
        go, says = _in_one_go(glued, glue, clamps, figures)
    except PlannerError as error:
        return Gluing(says=str(error))
    pressures, note = _pressures(glued, figures)
    return Gluing(go.panels, says, pressures, note, _water(glue))


def _in_one_go(glued: Sequence[Wanted], glue: Glue, clamps: Station, figures: Figures) -> tuple[InOneGo, str]:
    """As many of the longest of these panels as glue and clamps allow."""
    workshop = Workshop.get()
    go = panels_in_one_go(
        open_minutes=glue.open_minutes,
        minutes_to_spread_and_close_a_panel=workshop.close_minutes,
        clamps_free=clamps.capacity,
        clamps_a_panel=max(_clamps(each, figures) for each in glued),
    )
    evening = panels_in_minutes(
        minutes=EVENING_MINUTES,
        press_minutes=glue.clamp_minutes,
        panels_in_a_go=go.panels,
        minutes_to_spread_and_close_a_panel=max(workshop.glue_minutes, workshop.close_minutes),
    )
    return go, (
        f"{go.why} With {glue.clamp_minutes} minutes in the clamps, two hours of an evening are enough for "
        f"{counted(evening, 'panel')}."
    )


def _pressures(glued: Sequence[Wanted], figures: Figures) -> tuple[tuple[str, ...], str]:
    """A sentence for each wood, by the panel that asks most of a clamp; and how sure that is."""
    woods = {each.species.pk: each.species for each in glued}
    said, note = [], ""
    for pk, species in woods.items():
        hardness = species.wood.hardness
        pressure = clamp_pressure(hardness)
        low, high = max(
            pressure.pounds_a_clamp(_length_in(each, figures), _rough_in(each, figures), _clamps(each, figures))
            for each in glued
            if each.species.pk == pk
        )
        said.append(
            f"{species} ({hardness.value}): {pressure.from_psi:g} to {pressure.to_psi:g} psi on the joint, "
            f"at most {round(low / POUNDS) * POUNDS:,} to {round(high / POUNDS) * POUNDS:,} lb at each clamp."
        )
        note = pressure.note
    return tuple(said), note


def _water(glue: Glue) -> str:
    """What to say where the glue isn't known to stand the washing that ware gets."""
    if glue.water_class is not None and glue.water_class >= FOR_SERVING:
        return ""
    wants = f"what is washed, and boards and trays are, wants {FOR_SERVING.name} or better (EN 204)"
    if glue.water_class is None:
        return f"How {glue} withstands water isn’t written down: {wants}. Look at its label."
    return f"{glue} is {WaterClass(glue.water_class).name}: {wants}. Glue what goes near water with another."


def _length_in(wanted: Wanted, figures: Figures) -> float:
    return shapes.blank_nm(wanted.design, figures)[0] / NM_PER_INCH


def _rough_in(wanted: Wanted, figures: Figures) -> float:
    """Panels are planed after they are glued."""
    return (wanted.design.stock_thickness_nm + figures.planing_nm) / NM_PER_INCH


def _clamps(wanted: Wanted, figures: Figures) -> int:
    return clamps_for_panel(_length_in(wanted, figures))
