"""Designs as the planner sees them."""

from __future__ import annotations

from collections.abc import Iterable

from planner import NM_PER_INCH, Design, Detail, Finish, Pass
from shop.designs.models import Design as DesignRow
from shop.designs.models import Detail as DetailRow
from shop.designs.models import Finish as FinishRow
from shop.designs.shapes import outline_in
from shop.figures.models import Figures


def design_values(pks: Iterable[int], figures: Figures) -> dict[int, Design]:
    """By primary key, each with its outline in inches, passes, details and finish."""
    rows = DesignRow.objects.filter(pk__in=pks).select_related("finish")
    margin_in = figures.edge_margin_nm / NM_PER_INCH
    return {row.pk: _design(row, margin_in) for row in rows.prefetch_related("passes__bit", "details__bit")}


def _design(row: DesignRow, margin_in: float) -> Design:
    length_in, width_in = row.length_nm / NM_PER_INCH, row.width_nm / NM_PER_INCH
    return Design(
        id=f"d{row.pk}",
        name=row.name,
        length_in=length_in,
        width_in=width_in,
        thickness_in=row.stock_thickness_nm / NM_PER_INCH,
        outline=outline_in(row),
        passes=tuple(Pass(each.name, each.bit.name, float(each.minutes)) for each in row.passes.all()),
        details=tuple(_detail(each) for each in row.details.all()),
        sanding_minutes=row.sanding_minutes,
        finish=row.finish and _finish(row.finish),
        is_glued=row.is_glued,
        margin_in=margin_in,
    )


def _detail(row: DetailRow) -> Detail:
    return Detail(
        kind=row.kind,
        minutes=row.minutes,
        bit=row.bit and row.bit.name,
        rest_least_minutes=row.rest_least_minutes,
        rest_most_minutes=row.rest_most_minutes,
        colour=row.colour,
    )


def _finish(row: FinishRow) -> Finish:
    return Finish(
        id=row.name,
        apply_minutes=row.apply_minutes,
        soak_least_minutes=row.soak_least_minutes,
        soak_most_minutes=row.soak_most_minutes,
        wipe_minutes=row.wipe_minutes,
        dry_minutes=row.dry_minutes,
        coats=row.coats,
    )
