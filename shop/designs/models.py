"""What the workshop makes: designs with their passes, their detail steps and their finish."""

from __future__ import annotations

from decimal import Decimal

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
    coats = models.PositiveSmallIntegerField(default=1, help_text="how often a piece is oiled to be done")
    cover_m2_per_litre = models.DecimalField("covers, m² a litre", max_digits=5, decimal_places=1, default=Decimal(15))
    dollars_per_litre = models.DecimalField(max_digits=6, decimal_places=2, default=Decimal(25))
    in_stock_ml = models.PositiveIntegerField("in stock, ml", default=0)
    least_celsius = models.SmallIntegerField("not below, °C", default=10)
    cure_days = models.PositiveSmallIntegerField("full cure before food, days", default=30)
    has_nut_oil = models.BooleanField("made with nut oil", default=False)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "finishes"
        constraints = [
            models.CheckConstraint(
                condition=Q(coats__range=(1, 20), cover_m2_per_litre__gt=0, dollars_per_litre__gte=0),
                name="a_finish_covers",
                violation_error_message="A finish covers something with a litre, and takes 1 to 20 coats.",
            ),
            models.CheckConstraint(
                condition=Q(soak_least_minutes__lte=F("soak_most_minutes")),
                name="finish_window_is_open",
                violation_error_message="The longest soak is not shorter than the shortest.",
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
        POLYGON = "polygon", "polygon with round corners"
        FREE = "free", "free outline"

    class Turns(models.TextChoices):
        HALF = "half", "half a turn only, the grain runs along it"
        QUARTERS = "quarters", "by quarters, the grain may run across it"
        FREE = "free", "any way round, its grain shows no direction"

    name = models.CharField(max_length=60, unique=True)
    shape = models.CharField(max_length=10, choices=Shape, default=Shape.RECTANGLE)
    outline = models.JSONField(
        blank=True, default=list, help_text="free outline: points [x, y], each from 0 to 1 of length and width"
    )
    pockets = models.JSONField(
        blank=True,
        default=list,
        help_text="pockets of its own, each its ring and those of its islands: points from 0 to 1",
    )
    carving = models.JSONField(
        blank=True, default=list, help_text="lines to carve: points [x, y], from 0 to 1 of length and width"
    )
    sides = models.PositiveSmallIntegerField("corners of a polygon", default=6)
    turns = models.CharField("on a panel it turns", max_length=8, choices=Turns, default=Turns.HALF)
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
    takes_artwork = models.BooleanField("with artwork drawn for one order", default=False)
    price = models.DecimalField(max_digits=8, decimal_places=2)
    is_offered = models.BooleanField(default=True)
    fair_guess = models.PositiveSmallIntegerField(
        "sold at a usual fair, a guess",
        null=True,
        blank=True,
        help_text="weighs as much as two fairs that were counted",
    )

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(length_nm__gt=0, width_nm__gt=0, stock_thickness_nm__gt=0),
                name="a_design_has_a_size",
                violation_error_message="Length, width and thickness are more than 0.",
            ),
            models.CheckConstraint(
                condition=Q(price__gte=0),
                name="a_design_is_not_paid_to_go",
                violation_error_message="A price is 0 or more.",
            ),
            models.CheckConstraint(
                condition=Q(sides__range=(3, 24)),
                name="a_polygon_has_corners",
                violation_error_message="A polygon has 3 to 24 corners.",
            ),
            models.CheckConstraint(
                condition=Q(sanding_minutes__lte=600),
                name="a_piece_is_sanded_within_a_day",
                violation_error_message="A piece is sanded for 600 minutes or less.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        if self.pocket_depth_nm and self.stock_thickness_nm and self.pocket_depth_nm >= self.stock_thickness_nm:
            raise ValidationError({"pocket_depth_nm": "The pocket is as deep as the stock is thick."})
        sides = (self.length_nm, self.width_nm)
        is_plain = self.shape == self.Shape.RECTANGLE
        if is_plain and self.corner_radius_nm and all(sides) and self.corner_radius_nm > min(sides) / 2:
            raise ValidationError({"corner_radius_nm": "A corner's radius is at most half of the shorter side."})
        if self.shape == self.Shape.FREE and len(self.outline) < 3:
            raise ValidationError({"outline": "A free outline has three points or more."})


class Pass(models.Model):
    """One job of one bit on a piece: pocket, clean-up, round-over, cut out."""

    class Kind(models.TextChoices):
        POCKET = "pocket", "pocket"
        CLEAN_UP = "clean-up", "clean-up of the pocket's floor"
        PROFILE = "profile", "cut out"
        ROUND_OVER = "round-over", "round-over"
        TEXTURE = "texture", "texture"
        CARVE = "carve", "V-carving"
        OTHER = "other", "something else"

    design = models.ForeignKey(Design, models.CASCADE, related_name="passes")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=40)
    kind = models.CharField(max_length=10, choices=Kind, default=Kind.OTHER)
    bit = models.ForeignKey(Bit, models.PROTECT, related_name="passes")
    step_over_percent = models.PositiveSmallIntegerField("step-over, % of the bit", null=True, blank=True)
    depth_nm = LengthField("depth", null=True, blank=True, help_text="empty: the pocket's, or through the stock")
    tabs = models.PositiveSmallIntegerField(default=4, help_text="that hold the piece while it is cut out")
    by_hand = models.BooleanField(
        "minutes by hand", default=True, help_text="no: worked out from the outline, the bit and the step-over"
    )
    minutes = models.DecimalField("minutes a piece", max_digits=5, decimal_places=1)

    class Meta:
        ordering = ["position"]
        verbose_name_plural = "passes"
        constraints = [
            models.UniqueConstraint(fields=["design", "position"], name="one_pass_a_position"),
            models.CheckConstraint(
                condition=Q(minutes__gt=0),
                name="a_pass_takes_time",
                violation_error_message="A pass takes more than 0 minutes.",
            ),
            models.CheckConstraint(
                condition=Q(step_over_percent__isnull=True) | Q(step_over_percent__range=(1, 100)),
                name="a_step_over_is_a_share_of_the_bit",
                violation_error_message="A step-over is 1 to 100 % of the bit.",
            ),
            models.CheckConstraint(
                condition=Q(by_hand=True) | ~Q(kind="other"),
                name="what_is_worked_out_is_of_a_known_kind",
                violation_error_message="A pass of another kind has its minutes by hand.",
            ),
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
    laser_length_nm = LengthField("laser: engraved length", null=True, blank=True)
    laser_width_nm = LengthField("laser: engraved width", null=True, blank=True)
    laser_lines_per_inch = models.PositiveSmallIntegerField("laser: lines an inch", null=True, blank=True)
    laser_cut_nm = LengthField("laser: length of cut and scored lines", null=True, blank=True)
    colour = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["design", "position"], name="one_detail_a_position"),
            models.CheckConstraint(
                condition=Q(minutes__gte=1),
                name="a_detail_takes_time",
                violation_error_message="A step takes 1 minute or more.",
            ),
            models.CheckConstraint(
                condition=Q(kind="carve", bit__isnull=False) | (~Q(kind="carve") & Q(bit__isnull=True)),
                name="carving_and_only_carving_has_a_bit",
                violation_error_message="Carving has a bit, and nothing else has.",
            ),
            models.CheckConstraint(
                condition=Q(
                    laser_length_nm__isnull=True, laser_width_nm__isnull=True, laser_lines_per_inch__isnull=True
                )
                | Q(laser_length_nm__gt=0, laser_width_nm__gt=0, laser_lines_per_inch__gt=0),
                name="an_engraving_has_its_size_and_lines",
            ),
            models.CheckConstraint(
                condition=Q(rest_most_minutes__isnull=True) | Q(rest_most_minutes__gte=F("rest_least_minutes")),
                name="detail_window_is_open",
                violation_error_message="The longest rest is not shorter than the shortest.",
            ),
        ]

    def __str__(self) -> str:
        return self.get_kind_display()
