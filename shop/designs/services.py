"""What the owner does with designs: write down, change its passes, give it an outline. One verb, one transaction."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.core import signing
from django.core.exceptions import ValidationError
from django.db import transaction
from django.forms import BaseModelFormSet, ModelForm
from shapely import Polygon

from planner import NM_PER_INCH, Drawing, PlannerError, eased, grown, read_svg
from shop.designs import shapes
from shop.designs.minutes import reckon
from shop.designs.models import Design
from shop.signals import tell_work_changed

SALT = "a drawing between its look and its keeping"
AN_HOUR = 3600
MM_PER_INCH = 25.4
NM_A_HUNDREDTH = 10_000
"""Sizes that geometry gives are kept to 0.01 mm, so that a form can show them."""
HUNDREDTHS_AN_INCH = NM_PER_INCH / NM_A_HUNDREDTH


@transaction.atomic
def keep_design(form: ModelForm) -> Design:
    """Write a design down, or its changes, and work its minutes out anew. Raises PlannerError; then nothing is kept."""
    design = form.save()
    shapes.workpiece(design)  # what can't be drawn is told before it is on every page
    reckon(design)
    tell_work_changed(Design, f"{design} was changed")
    return design


@transaction.atomic
def keep_work(design: Design, passes: BaseModelFormSet, details: BaseModelFormSet) -> None:
    """These passes and details hold from now on. Raises PlannerError; then nothing is kept."""
    for forms in (passes, details):
        _keep_in_order(forms)
    reckon(design)
    tell_work_changed(Design, f"the work on {design} was changed")


@dataclass(frozen=True)
class Read:
    """A drawing that was read and not kept yet, as shares of its length and width."""

    outline: list
    pockets: list
    carving: list
    length_in: float
    width_in: float

    @classmethod
    def of(cls, drawing: Drawing) -> Read:
        size = drawing.length_in, drawing.width_in
        return cls(
            shapes.shares(drawing.outline.exterior.coords[:-1], *size),
            [
                [shapes.shares(ring.coords[:-1], *size) for ring in (pocket.exterior, *pocket.interiors)]
                for pocket in drawing.pockets
            ],
            [shapes.shares(line.coords, *size) for line in drawing.lines],
            *size,
        )

    def sealed(self) -> str:
        """For a form to carry along: nobody can change it on the way."""
        return signing.dumps(self.__dict__, salt=SALT, compress=True)

    @classmethod
    def unsealed(cls, text: str) -> Read:
        """Raises signing.BadSignature where it is not ours, or older than an hour."""
        return cls(**signing.loads(text, salt=SALT, max_age=AN_HOUR))

    @property
    def length_mm(self) -> float:
        return self.length_in * MM_PER_INCH

    @property
    def width_mm(self) -> float:
        return self.width_in * MM_PER_INCH


def as_design(design: Design, read: Read) -> Design:
    """The design as it would be with what was read; nothing is written."""
    pocket_depth_nm = design.pocket_depth_nm if read.pockets else None
    return Design(
        name=design.name,
        shape=Design.Shape.FREE,
        outline=read.outline,
        pockets=read.pockets,
        carving=read.carving,
        length_nm=round(read.length_in * NM_PER_INCH),
        width_nm=round(read.width_in * NM_PER_INCH),
        stock_thickness_nm=design.stock_thickness_nm,
        pocket_depth_nm=pocket_depth_nm or (1 if read.pockets else None),
    )


def read_drawing(data: bytes) -> tuple[Drawing, Read]:
    """Look at an SVG file; nothing is kept. Raises PlannerError in one sentence."""
    drawing = read_svg(data)
    return drawing, Read.of(drawing)


@transaction.atomic
def take_outline(
    design: Design, read: Read, *, length_nm: int, pocket_depth_nm: int | None, rim_nm: int | None = None
) -> Design:
    """The drawn outline at that length is the design's from now on; with a rim it is the pocket, and the outline is
    grown outward from it. Raises PlannerError; then nothing is kept."""
    design.shape = Design.Shape.FREE
    design.outline, design.pockets, design.carving = read.outline, read.pockets, read.carving
    design.length_nm = length_nm
    design.width_nm = round(length_nm * read.width_in / read.length_in)
    design.pocket_depth_nm = pocket_depth_nm
    if rim_nm:
        _grow_a_rim(design, rim_nm / NM_PER_INCH)
    return _keep_shape(design, f"{design} has a new outline")


def _grow_a_rim(design: Design, rim_in: float) -> None:
    """What is drawn becomes the pocket; pockets and lines drawn in it stay where they are, pockets as islands."""
    inner = shapes.outline(design)
    islands = [pocket.exterior.coords[:-1] for pocket in shapes.drawn_pockets(design)]
    moved = _Moved(grown(inner, rim_in))
    design.carving = [moved(line.coords) for line in shapes.carving(design)]
    design.pockets = [[moved(inner.exterior.coords[:-1]), *(moved(island) for island in islands)]]
    moved.become_the_outline_of(design)


@transaction.atomic
def ease_corners(design: Design, radius_in: float) -> Design:
    """The same outline with no corner tighter than a sanding pad follows; pockets and lines stay where they are.

    Raises PlannerError where a part of it would be lost; then nothing is kept.
    """
    moved = _Moved(eased(shapes.outline(design), radius_in))
    design.pockets = [[moved(ring.coords[:-1]) for ring in rings] for rings in _rings_of_pockets(design)]
    design.carving = [moved(line.coords) for line in shapes.carving(design)]
    moved.become_the_outline_of(design)
    return _keep_shape(design, f"{design} has eased corners")


def _rings_of_pockets(design: Design) -> list[list]:
    return [[pocket.exterior, *pocket.interiors] for pocket in shapes.drawn_pockets(design)]


class _Moved:
    """Points in inches as shares of a new outline's box."""

    def __init__(self, outline: Polygon) -> None:
        self.outline = outline
        self.left, self.low, right, high = outline.bounds
        self.size = right - self.left, high - self.low

    def __call__(self, points: Iterable) -> list:
        return shapes.shares([(x - self.left, y - self.low) for x, y in points], *self.size)

    def become_the_outline_of(self, design: Design) -> None:
        design.shape = Design.Shape.FREE
        design.outline = self(self.outline.exterior.coords[:-1])
        design.length_nm, design.width_nm = (round(side * HUNDREDTHS_AN_INCH) * NM_A_HUNDREDTH for side in self.size)


def _keep_shape(design: Design, because: str) -> Design:
    try:
        design.full_clean()
    except ValidationError as error:
        raise PlannerError(" ".join(error.messages)) from error
    design.save()
    shapes.workpiece(design)
    reckon(design)
    tell_work_changed(Design, because)
    return design


def _keep_in_order(forms: BaseModelFormSet) -> None:
    """Rows stay in their order; new ones come after them."""
    forms.save(commit=False)
    for row in forms.deleted_objects:
        row.delete()
    taken = [form.instance.position for form in forms.initial_forms if form.instance.position is not None]
    after = max(taken, default=0)
    changed: Iterable = [*[row for row, _ in forms.changed_objects], *forms.new_objects]
    for row in changed:
        if row.position is None:
            after += 1
            row.position = after
        if hasattr(row, "name") and not row.name:
            row.name = row.kind
        row.save()
