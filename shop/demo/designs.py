"""The wares written into the pattern book: finishes, designs, their passes and details."""

from __future__ import annotations

from decimal import Decimal

from planner import parse_length_nm
from shop.demo.stock import V
from shop.demo.wares import FINISHES, WARES, Ware
from shop.designs.minutes import reckon
from shop.designs.models import Design, Detail, Finish, Pass
from shop.stock.models import Bit


def write_the_pattern_book() -> None:
    """Finishes and designs with their passes and details."""
    Finish.objects.bulk_create([Finish(**finish) for finish in FINISHES])
    bits = {bit.name: bit for bit in Bit.objects.all()}
    finishes = {finish.name: finish for finish in Finish.objects.all()}
    for ware in WARES:
        design = _design(ware, finishes)
        Pass.objects.bulk_create(_passes(design, ware, bits))
        Detail.objects.bulk_create(_details(design, ware, bits[V]))
        reckon(design)


def _design(ware: Ware, finishes: dict[str, Finish]) -> Design:
    return Design.objects.create(
        name=ware.name,
        shape=ware.shape,
        outline=ware.outline(),
        length_nm=parse_length_nm(ware.length),
        width_nm=parse_length_nm(ware.width),
        corner_radius_nm=parse_length_nm(ware.corner),
        stock_thickness_nm=parse_length_nm(ware.thickness),
        pocket_depth_nm=ware.pocket and parse_length_nm(ware.pocket),
        rim_nm=ware.rim and parse_length_nm(ware.rim),
        is_glued=ware.glued,
        sanding_minutes=ware.sanding,
        finish=finishes.get(ware.finish),
        takes_text=ware.text,
        price=Decimal(ware.price),
        fair_guess=ware.guess,
        takes_artwork=ware.artwork,
    )


def _passes(design: Design, ware: Ware, bits: dict[str, Bit]) -> list[Pass]:
    return [
        Pass(
            design=design,
            position=position,
            kind=cut.kind,
            name=cut.name or Pass.Kind(cut.kind).label.split(" of ")[0],
            bit=bits[cut.bit],
            step_over_percent=cut.step_over,
            depth_nm=cut.depth and parse_length_nm(cut.depth),
            by_hand=cut.minutes is not None,
            minutes=Decimal(str(cut.minutes or 1)),
        )
        for position, cut in enumerate(ware.passes, start=1)
    ]


def _details(design: Design, ware: Ware, v_bit: Bit) -> list[Detail]:
    return [
        Detail(design=design, position=position, bit=v_bit if detail["kind"] == "carve" else None, **detail)
        for position, detail in enumerate(ware.details, start=1)
    ]
