"""All that is reckoned of a design, for its page: its outline with its faults, minutes, wood, finish and price."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil
from typing import Any

from django.db.models import Sum

from planner import (
    NM_PER_INCH,
    RAGS,
    Finding,
    Flatness,
    FlatnessFacts,
    Hardness,
    Limits,
    Machine,
    Movement,
    PlannerError,
    RoutedPass,
    check_outline,
    feed_findings,
    flatness,
    food_note,
    minutes_at,
    shop_to_home,
)
from shop.designs import shapes
from shop.designs.advice import Advice, advice_for
from shop.designs.costing import Sold, finish_ml
from shop.designs.machines import cutter_of, machine_of, router
from shop.designs.minutes import THE_POCKETS, depth_in, routed_of, step_over_of
from shop.designs.models import Design, Detail, Finish, Pass
from shop.designs.pictures import Picture, drawn
from shop.designs.pricing import Price, price_of
from shop.figures.models import Figures
from shop.stock.models import Species
from shop.words import duration

MOST_SAID = 40
"""Findings of a kind; so many are one mistake."""
LABEL_CELSIUS = 21
"""70 °F, for which labels say their times."""
A_TENTH = 0.1


@dataclass(frozen=True)
class ListRow:
    design: Design
    picture: Picture | None


def list_rows() -> list[ListRow]:
    """Every design with its drawing and router minutes, in one query."""
    return [
        ListRow(design, _picture(design))
        for design in Design.objects.annotate(router_minutes=Sum("passes__minutes")).order_by("-is_offered", "name")
    ]


@dataclass(frozen=True)
class PassRow:
    """One pass with what geometry says of it."""

    row: Pass
    routed: RoutedPass | None
    problem: str = ""
    feeds: tuple[str, ...] = ()

    @property
    def step_over(self) -> int | None:
        return step_over_of(self.row) if self.row.kind in {*THE_POCKETS, Pass.Kind.TEXTURE} else None


@dataclass(frozen=True)
class Alike:
    """Findings of one kind in one drawing."""

    findings: tuple[Finding, ...]
    picture: Picture

    @property
    def first(self) -> str:
        return self.findings[0].says

    @property
    def others(self) -> list[str]:
        return [finding.says for finding in self.findings[1:MOST_SAID]]

    @property
    def more(self) -> int:
        """Marked in the drawing and not said one by one."""
        return max(0, len(self.findings) - MOST_SAID)


@dataclass
class About:
    """What a design's page shows; what can't be reckoned is missing and said in `problems`."""

    design: Design
    species: Species | None
    picture: Picture | None = None
    findings: list[Alike] = field(default_factory=list)
    passes: list[PassRow] = field(default_factory=list)
    advice: Advice | None = None
    flatness: Flatness | None = None
    movement: Movement | None = None
    finish_ml: float = 0.0
    warmth: str = ""
    food: str = ""
    rags: str = ""
    price: Price | None = None
    problems: list[str] = field(default_factory=list)

    @property
    def router_minutes(self) -> float:
        return float(sum(each.row.minutes for each in self.passes))

    @property
    def has_laser(self) -> bool:
        return any(detail.kind == Detail.Kind.LASER for detail in self.design.details.all())

    @property
    def can_be_eased(self) -> bool:
        return any(alike.findings[0].fault == "tight corner" for alike in self.findings)


def about_design(design: Design, asked: Mapping[str, str]) -> dict[str, Any]:
    """The context of a design's page. `asked` may name a wood, a batch and where it is sold."""
    figures = Figures.get()
    woods = list(Species.objects.all())
    species = next((wood for wood in woods if str(wood.pk) == asked.get("wood")), woods[0] if woods else None)
    batch = _number(asked.get("batch"), figures.usual_batch)
    about = About(design, species)
    machine = machine_of(router())
    passes = list(design.passes.select_related("bit"))
    wood = "soft" if species and species.wood.hardness is Hardness.SOFT else "hard"
    about.passes = [_pass_row(design, row, machine, wood) for row in passes]
    for reckon in (_look_at_outline, _advise, _look_at_wood, _look_at_finish):
        try:
            reckon(about, figures, machine)
        except PlannerError as error:
            about.problems.append(str(error))
    about.problems += [each.problem for each in about.passes if each.problem]
    sold = Sold(asked["sold"]) if asked.get("sold") in set(Sold) else Sold.ONLINE
    try:
        about.price = price_of(design, species, batch, sold, figures)
    except PlannerError as error:
        about.problems.append(str(error))
    return {
        "design": design,
        "about": about,
        "woods": woods,
        "channels": list(Sold),
        "details": design.details.all(),
        "batch": batch,
    }


def _picture(design: Design) -> Picture | None:
    try:
        return drawn(design)
    except PlannerError:
        return None  # its own page says what is wrong


def _pass_row(design: Design, row: Pass, machine: Machine, wood: str) -> PassRow:
    try:
        cutter = cutter_of(row.bit)
        feeds = feed_findings(cutter, wood=wood, depth_in=cutter.level_in(depth_in(design, row)))
        return PassRow(row, None if row.kind == Pass.Kind.OTHER else routed_of(design, row, machine), feeds=feeds)
    except PlannerError as error:
        return PassRow(row, None, "" if row.by_hand else str(error))


def _look_at_outline(about: About, figures: Figures, _: Machine) -> None:
    design = about.design
    pocket_bit = next((each.row.bit for each in about.passes if each.row.kind in THE_POCKETS), None)
    v_pass = next((each.row for each in about.passes if each.row.kind == Pass.Kind.CARVE), None)
    limits = Limits(
        sanding_radius_in=figures.sanding_radius_nm / NM_PER_INCH,
        least_wall_in=figures.least_wall_nm / NM_PER_INCH,
        pocket_bit_in=pocket_bit and pocket_bit.diameter_nm / NM_PER_INCH,
        v_angle_degrees=v_pass and v_pass.bit.angle_degrees,
        v_depth_in=depth_in(design, v_pass) if v_pass else 0.125,
    )
    found = check_outline(shapes.outline(design), shapes.pockets(design), shapes.carving(design), limits=limits)
    kinds: dict[str, list[Finding]] = {}
    for finding in found:
        kinds.setdefault(finding.fault, []).append(finding)
    about.findings = [
        Alike(tuple(own), drawn(design, spots=[finding.shape for finding in own])) for own in kinds.values()
    ]
    paths = next((each.routed.paths for each in about.passes if each.routed and each.row.kind in THE_POCKETS), ())
    about.picture = drawn(design, paths=paths, spots=[finding.shape for finding in found])


def _advise(about: About, figures: Figures, machine: Machine) -> None:
    rows = [each.row for each in about.passes]
    about.advice = advice_for(about.design, rows, machine, figures)


def _look_at_wood(about: About, figures: Figures, _: Machine) -> None:
    if about.species is None:
        return
    design, wood = about.design, about.species.wood
    length_in, width_in = shapes.size_in(design)
    shop, home = figures.shop_air, figures.home_air
    widest = figures.ripped_above_nm / NM_PER_INCH
    strips = ceil(width_in / widest) if design.is_glued else 1
    deepest_in = max((depth_in(design, each.row) for each in about.passes if each.row.kind in THE_POCKETS), default=0.0)
    floor_nm = design.stock_thickness_nm - max(design.pocket_depth_nm or 0, deepest_in * NM_PER_INCH)
    about.movement = shop_to_home(width_in, wood, shop, home)
    about.flatness = flatness(
        FlatnessFacts(
            floor_in=floor_nm / NM_PER_INCH,
            length_in=length_in,
            width_in=width_in,
            strips=strips,
            widest_strip_in=width_in / strips,
            rings_alternate=design.is_glued,
            wood=wood,
            from_percent=shop.moisture_percent,
            to_percent=home.moisture_percent,
        )
    )


def _look_at_finish(about: About, figures: Figures, _: Machine) -> None:
    finish = about.design.finish
    if finish is None:
        return
    about.warmth = _warmth(finish, figures)
    about.finish_ml = finish_ml(about.design)
    about.food = food_note(finish.name, finish.cure_days, has_nut_oil=finish.has_nut_oil)
    about.rags = RAGS


def _warmth(finish: Finish, figures: Figures) -> str:
    """What the shop's warmth does to the label's drying time, where it does much."""
    celsius = (figures.shop_fahrenheit - 32) / 1.8
    try:
        minutes = minutes_at(finish.dry_minutes, LABEL_CELSIUS, celsius, finish.least_celsius)
    except PlannerError as error:
        return str(error)
    if abs(minutes - finish.dry_minutes) < A_TENTH * finish.dry_minutes:
        return ""
    return (
        f"At {figures.shop_fahrenheit} °F its {duration(finish.dry_minutes)} of drying take about {duration(minutes)}, "
        "a rule of thumb; the label comes first."
    )


def _number(text: str | None, otherwise: int) -> int:
    return min(1000, max(1, int(text))) if text and text.isdecimal() and len(text) < 5 else otherwise
