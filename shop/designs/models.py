"""What the workshop makes: designs with their passes, their detail steps and their finish."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q

from shop.lengths import LengthField
from shop.stock.models import Bit


class Finish(models.Model):
    """An oil or wax with its clock; the label on the tin wins over these minutes."""

    name = models.CharField(max_length=40, unique=True)
    apply_minutes = models.PositiveSmallIntegerField("put on, minutes a piece", default=3)
    soak_least_minutes = models.PositiveIntegerField("wipe no sooner than, minutes", default=12 * 60)
    soak_most_minutes = models.PositiveIntegerField("wipe before, minutes", default=16 * 60)
    wipe_minutes = models.PositiveSmallIntegerField("wipe, minutes a piece", default=2)
    dry_minutes = models.PositiveIntegerField("dry after wiping, minutes", default=4 * 60)
    rags_self_heat = models.BooleanField(default=True, help_text="rags with it can catch fire by themselves")
    before_food = models.CharField(max_length=120, blank=True, help_text="what the label says before food contact")

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "finishes"
        constraints = [
            models.CheckConstraint(
                condition=Q(soak_least_minutes__lte=F("soak_most_minutes")), name="finish_window_is_open"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Design(models.Model):
    """A thing the workshop makes: its outline and size, what it is made from, how it is finished, what it costs."""

    class Shape(models.TextChoices):
        RECTANGLE = "rectangle", "rectangle with round corners"
        OVAL = "oval", "round or oval"
        HEXAGON = "hexagon", "hexagon"
        FREE = "free", "free outline"

    name = models.CharField(max_length=60, unique=True)
    shape = models.CharField(max_length=10, choices=Shape, default=Shape.RECTANGLE)
    outline = models.JSONField(
        blank=True, default=list, help_text="free outline: points [x, y], each from 0 to 1 of length and width"
    )
    length_nm = LengthField("length, along the grain")
    width_nm = LengthField("width")
    corner_radius_nm = LengthField("corner radius", default=0, blank=True)
    stock_thickness_nm = LengthField("stock thickness", default=19_050_000)
    pocket_depth_nm = LengthField("pocket depth", null=True, blank=True)
    rim_nm = LengthField("rim around the pocket", null=True, blank=True)
    is_glued = models.BooleanField("from a glued panel", default=True, help_text="no: cut from one board")
    sanding_minutes = models.PositiveSmallIntegerField("sand 150 and 220 grit, minutes", default=7)
    finish = models.ForeignKey(Finish, models.PROTECT, null=True, blank=True, related_name="designs")
    takes_text = models.BooleanField("can be personalised", default=False)
    price = models.DecimalField(max_digits=8, decimal_places=2)
    is_offered = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(length_nm__gt=0, width_nm__gt=0, stock_thickness_nm__gt=0), name="a_design_has_a_size"
            ),
            models.CheckConstraint(condition=Q(price__gte=0), name="a_design_is_not_paid_to_go"),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        if self.pocket_depth_nm and self.stock_thickness_nm and self.pocket_depth_nm >= self.stock_thickness_nm:
            raise ValidationError({"pocket_depth_nm": "The pocket is as deep as the stock is thick."})
        if self.shape == self.Shape.FREE and len(self.outline) < 3:
            raise ValidationError({"outline": "A free outline has three points or more."})


class Pass(models.Model):
    """One job of one bit on a piece: pocket, clean-up, round-over, cut out."""

    design = models.ForeignKey(Design, models.CASCADE, related_name="passes")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=40)
    bit = models.ForeignKey(Bit, models.PROTECT, related_name="passes")
    minutes = models.DecimalField("minutes a piece", max_digits=5, decimal_places=1)

    class Meta:
        ordering = ["position"]
        verbose_name_plural = "passes"
        constraints = [
            models.UniqueConstraint(fields=["design", "position"], name="one_pass_a_position"),
            models.CheckConstraint(condition=Q(minutes__gt=0), name="a_pass_takes_time"),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.bit}"


class Detail(models.Model):
    """One step of the detail branch, and how long the piece rests after it before the next."""

    class Kind(models.TextChoices):
        MASK = "mask", "mask"
        CARVE = "carve", "carve"
        BRUSH = "brush", "brush clean"
        SEAL = "seal", "seal coat"
        PAINT = "paint", "paint"
        PEEL = "peel", "peel"
        LASER = "laser", "laser"

    design = models.ForeignKey(Design, models.CASCADE, related_name="details")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=10, choices=Kind)
    minutes = models.PositiveSmallIntegerField("minutes a piece")
    bit = models.ForeignKey(Bit, models.PROTECT, null=True, blank=True, related_name="details")
    rest_least_minutes = models.PositiveIntegerField("rest after it at least, minutes", default=0)
    rest_most_minutes = models.PositiveIntegerField("next step before, minutes", null=True, blank=True)
    colour = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["design", "position"], name="one_detail_a_position"),
            models.CheckConstraint(condition=Q(minutes__gte=1), name="a_detail_takes_time"),
            models.CheckConstraint(
                condition=Q(kind="carve", bit__isnull=False) | (~Q(kind="carve") & Q(bit__isnull=True)),
                name="carving_and_only_carving_has_a_bit",
            ),
            models.CheckConstraint(
                condition=Q(rest_most_minutes__isnull=True) | Q(rest_most_minutes__gte=F("rest_least_minutes")),
                name="detail_window_is_open",
            ),
        ]

    def __str__(self) -> str:
        return self.get_kind_display()
