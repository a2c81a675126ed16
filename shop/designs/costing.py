"""A design's costs from its rows: wood, minutes, hands by person, wear, finish, fees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner import (
    NM_PER_INCH,
    BitWear,
    Hands,
    PriceFacts,
    amount_ml,
    is_sold_so_thick,
    quarter_for,
    rough_in,
    surface_in2,
)
from shop.designs import shapes
from shop.designs.models import Design, Detail
from shop.figures.models import Figures
from shop.stations.models import Person, Workshop
from shop.stock.models import Species

BENCH, DETAIL = "at the bench", "at the detail table"


class Sold(StrEnum):
    """Where a piece is sold: a channel keeps its fees, a fair's table is paid by the pieces on it."""

    ONLINE = "online"
    FAIR = "at a fair"


@dataclass(frozen=True)
class Wages:
    """What an hour at the bench and at the detail table costs."""

    bench: Decimal
    detail: Decimal

    @classmethod
    def read(cls, figures: Figures) -> Wages:
        """The owner's at the bench and the partner's at the detail table, as the work is shared; else the figures'."""
        people = list(Person.objects.filter(works_here=True))
        own = {person.role: person.dollars_per_hour for person in people if person.dollars_per_hour is not None}
        usual = figures.hands_dollars_per_hour
        return cls(own.get(Person.Role.OWNER, usual), own.get(Person.Role.PARTNER, usual))


def price_facts(
    design: Design, species: Species | None, sold: Sold, *, figures: Figures, workshop: Workshop, wages: Wages
) -> PriceFacts:
    """One piece of a design in a wood, sold by itself; passes, details and finish are read with the design."""
    is_online, nothing = sold == Sold.ONLINE, Decimal(0)
    passes, details = list(design.passes.all()), list(design.details.all())
    return PriceFacts(
        wood_board_feet=board_feet(design, figures),
        waste_fraction=figures.waste_percent / 100,
        wood_dollars_a_board_foot=species.dollars_per_board_foot if species else Decimal(0),
        router_minutes=sum((row.minutes for row in passes), _carving_minutes(details)),
        router_dollars_a_minute=figures.router_dollars_per_minute,
        laser_minutes=Decimal(sum(row.minutes for row in details if row.kind == Detail.Kind.LASER)),
        laser_dollars_a_minute=figures.laser_dollars_per_minute,
        hands=(
            Hands(BENCH, Decimal(bench_minutes(design, workshop)), wages.bench),
            Hands(DETAIL, Decimal(_detail_minutes(details)), wages.detail),
        ),
        set_up_minutes=Decimal(set_up_minutes(passes, workshop)),
        set_up_dollars_an_hour=wages.bench,
        artwork_minutes=Decimal(figures.artwork_minutes if design.takes_artwork else 0),
        bits=tuple(BitWear(row.bit.name, row.minutes, row.bit.price, Decimal(row.bit.life_minutes)) for row in passes),
        consumables_dollars=figures.consumables_dollars,
        finish_dollars=finish_dollars(design),
        packing_dollars=figures.packing_dollars,
        fair_dollars_a_piece=nothing if is_online else figures.fair_dollars_a_piece,
        fee_fraction=figures.fee_percent / 100 if is_online else nothing,
        fee_dollars=figures.fee_dollars if is_online else nothing,
        seconds_fraction=figures.seconds_percent / 100,
        seconds_off_fraction=figures.seconds_off_percent / 100,
    )


def board_feet(design: Design, figures: Figures) -> Decimal:
    """Rough wood for its blank: the margins counted, as thick as the quarter that is bought for it; of what no yard
    sells so thick, as thick as it is with its planing."""
    length_nm, width_nm = shapes.blank_nm(design, figures)
    thickness_in, planing_in = design.stock_thickness_nm / NM_PER_INCH, figures.planing_nm / NM_PER_INCH
    rough = thickness_in + planing_in
    if is_sold_so_thick(thickness_in, planing_in=planing_in):
        rough = rough_in(quarter_for(thickness_in, planing_in=planing_in))
    square = Decimal(length_nm) * width_nm / NM_PER_INCH**2
    return (square * Decimal(repr(rough)) / 144).quantize(Decimal("0.001"))


def bench_minutes(design: Design, workshop: Workshop) -> int:
    """Hands on each piece outside the detail branch: wood, bed, sanding, oil, packing."""
    wood = workshop.cut_blank_minutes
    if design.is_glued:
        wood = workshop.rip_minutes + workshop.glue_minutes + workshop.unclamp_minutes + workshop.flatten_minutes
    bed = workshop.load_minutes_per_piece + workshop.unload_minutes_per_piece
    finish = design.finish
    oil = finish.coats * (finish.apply_minutes + finish.wipe_minutes) if finish else 0
    return wood + bed + design.sanding_minutes + oil + workshop.pack_minutes_per_piece


def set_up_minutes(passes: Sequence, workshop: Workshop) -> int:
    """Hands on a whole batch: the bed and its bit changes, and an order to pack."""
    bits = len({row.bit_id for row in passes})
    return workshop.load_minutes + bits * workshop.bit_change_minutes + workshop.pack_minutes


def finish_ml(design: Design) -> float:
    """How much of its finish one piece takes."""
    if design.finish is None:
        return 0.0
    outline, pockets = shapes.outline(design), shapes.pockets(design)
    area = surface_in2(
        outline.area,
        outline.length,
        design.stock_thickness_nm / NM_PER_INCH,
        pocket_perimeter_in=sum(pocket.length for pocket in pockets),
        pocket_depth_in=(design.pocket_depth_nm or 0) / NM_PER_INCH,
    )
    return amount_ml(area, design.finish.coats, float(design.finish.cover_m2_per_litre))


def finish_dollars(design: Design) -> Decimal:
    if design.finish is None:
        return Decimal(0)
    return Decimal(repr(finish_ml(design))) * design.finish.dollars_per_litre / 1000


def _detail_minutes(details: Sequence[Detail]) -> int:
    by_machine = {Detail.Kind.LASER, Detail.Kind.CARVE}
    return sum(row.minutes for row in details if row.kind not in by_machine)


def _carving_minutes(details: Sequence[Detail]) -> Decimal:
    return Decimal(sum(row.minutes for row in details if row.kind == Detail.Kind.CARVE))
