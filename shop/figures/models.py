"""The trade's figures that hang on no design: allowances at the saw, limits of shape, the air, wages and fees."""

from __future__ import annotations

from decimal import Decimal

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from planner import NM_PER_INCH, Air, PlannerError, grits_in
from shop.lengths import LengthField


def percent(label: str, default: str, **kwargs: object) -> models.DecimalField:
    """A share in per cent, from 0 to 100."""
    return models.DecimalField(
        label,
        max_digits=4,
        decimal_places=1,
        default=Decimal(default),
        validators=[MinValueValidator(0), MaxValueValidator(100)],
        **kwargs,
    )


def dollars(label: str, default: str) -> models.DecimalField:
    return models.DecimalField(
        label, max_digits=7, decimal_places=2, default=Decimal(default), validators=[MinValueValidator(0)]
    )


def fahrenheit(label: str, default: int) -> models.SmallIntegerField:
    return models.SmallIntegerField(label, default=default, validators=[MinValueValidator(30), MaxValueValidator(130)])


def known_grits(text: str) -> None:
    """One grit or more, each known."""
    try:
        grits = grits_in(text)
    except PlannerError as error:
        raise ValidationError(str(error)) from error
    if not grits:
        raise ValidationError("Say at least one grit, like 120, 180, 220.")


class Figures(models.Model):
    """One row: what the workshop reckons with, each a start from common practice that its owner changes."""

    kerf_nm = LengthField("saw kerf", default=3_175_000)
    jointing_nm = LengthField("jointed off each edge that is glued", default=1_587_500)
    planing_nm = LengthField("planed off the thickness", default=4_762_500)
    panel_trim_nm = LengthField("trimmed off a panel's length", default=12_700_000)
    edge_margin_nm = LengthField("margin round the pieces of a panel", default=6_350_000)
    screw_margin_nm = LengthField("margin at a panel's ends, for the screws that hold it", default=19_050_000)
    web_nm = LengthField("web left between pieces of a panel", default=6_350_000)
    ripped_above_nm = LengthField("strips wider than this are ripped and turned", default=203_200_000)
    offcut_nm = LengthField("an offcut is worth keeping from", default=101_600_000)
    waste_percent = percent("bought on top for knots and ends, %", "20")

    sanding_radius_nm = LengthField("sanding pad follows corners of radius", default=9_525_000)
    grits = models.CharField(
        "grits, one after the other", max_length=40, default="120, 180, 220", validators=[known_grits]
    )
    least_wall_nm = LengthField("thinnest wall", default=6_350_000)
    least_floor_nm = LengthField("thinnest floor under a pocket", default=6_350_000)

    shop_fahrenheit = fahrenheit("workshop, °F", 68)
    shop_humidity_percent = percent("workshop, relative humidity %", "40")
    home_fahrenheit = fahrenheit("a customer's home in winter, °F", 70)
    home_humidity_percent = percent("a customer's home in winter, relative humidity %", "30")

    router_dollars_per_minute = dollars("router, dollars a minute", "1")
    laser_dollars_per_minute = dollars("laser, dollars a minute", "0.50")
    hands_dollars_per_hour = dollars("hands, dollars an hour", "50")
    wanted_dollars_per_hour = dollars("wanted for an hour of hands, dollars", "60")
    consumables_dollars = dollars("sandpaper, tape and glue for a piece, dollars", "1.50")
    packing_dollars = dollars("box and wrapping for a piece, dollars", "2")
    fee_percent = percent("fees of the channel, sold online, % of the price", "6.5")
    fee_dollars = dollars("fees of the channel, sold online, dollars a sale", "0.45")
    fair_dollars_a_piece = dollars("table cost of a fair for a piece sold there, dollars", "2")
    seconds_percent = percent("pieces that turn out seconds, %", "4")
    seconds_off_percent = percent("a second is sold off by, %", "40")
    artwork_minutes = models.PositiveSmallIntegerField("artwork drawn for one order alone, minutes", default=45)
    usual_batch = models.PositiveSmallIntegerField("pieces in a usual batch", default=5)

    router_factor = models.DecimalField(
        "router minutes in truth, against geometry's",
        max_digits=4,
        decimal_places=2,
        default=Decimal(1),
        validators=[MinValueValidator(Decimal("0.25")), MaxValueValidator(Decimal(4))],
    )
    router_factor_since = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name_plural = "figures"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="one_row_of_figures"),
            models.CheckConstraint(
                condition=Q(router_factor__gte=Decimal("0.25"), router_factor__lte=4),
                name="a_factor_near_one",
                violation_error_message="The router's factor is between 0.25 and 4.",
            ),
            models.CheckConstraint(
                condition=Q(usual_batch__range=(1, 1_000)),
                name="a_batch_has_a_piece",
                violation_error_message="A usual batch has 1 to 1,000 pieces.",
            ),
            models.CheckConstraint(
                condition=Q(
                    kerf_nm__lte=NM_PER_INCH // 2, jointing_nm__lte=NM_PER_INCH // 2, planing_nm__lte=NM_PER_INCH
                ),
                name="a_saw_leaves_some_wood",
                violation_error_message="Kerf and jointing take 1/2 in at most, planing 1 in.",
            ),
            models.CheckConstraint(
                condition=Q(
                    panel_trim_nm__lte=12 * NM_PER_INCH,
                    edge_margin_nm__lte=6 * NM_PER_INCH,
                    screw_margin_nm__lte=6 * NM_PER_INCH,
                    web_nm__lte=6 * NM_PER_INCH,
                ),
                name="a_panel_leaves_room_for_pieces",
                violation_error_message="Margins and web are 6 in at most, the trim of a panel 12 in.",
            ),
            models.CheckConstraint(
                condition=Q(
                    ripped_above_nm__range=(NM_PER_INCH, 24 * NM_PER_INCH),
                    offcut_nm__lte=60 * NM_PER_INCH,
                    sanding_radius_nm__lte=6 * NM_PER_INCH,
                    least_wall_nm__lte=6 * NM_PER_INCH,
                    least_floor_nm__lte=6 * NM_PER_INCH,
                ),
                name="limits_of_a_workshop",
                violation_error_message="Strips are ripped above 1 to 24 in; offcuts are 60 in at most, the rest 6 in.",
            ),
            models.CheckConstraint(
                condition=Q(artwork_minutes__lte=2_000),
                name="artwork_is_drawn_within_a_week",
                violation_error_message="Artwork for an order takes 2,000 minutes at most.",
            ),
            models.CheckConstraint(
                condition=Q(
                    shop_fahrenheit__range=(30, 130),
                    home_fahrenheit__range=(30, 130),
                    shop_humidity_percent__range=(0, 99),
                    home_humidity_percent__range=(0, 99),
                ),
                name="air_that_people_live_in",
                violation_error_message="Air is at 30 to 130 °F and at 0 to 99 % of humidity.",
            ),
            models.CheckConstraint(
                condition=Q(seconds_percent__lt=100, seconds_off_percent__lte=100, fee_percent__lt=100),
                name="something_of_the_price_is_left",
                violation_error_message="Fees and seconds together leave something of the price: each is below 100 %.",
            ),
        ]

    def __str__(self) -> str:
        return "figures"

    @property
    def shop_air(self) -> Air:
        return Air(self.shop_fahrenheit, float(self.shop_humidity_percent) / 100)

    @property
    def home_air(self) -> Air:
        return Air(self.home_fahrenheit, float(self.home_humidity_percent) / 100)

    @classmethod
    def get(cls) -> Figures:
        """The figures, made with their defaults the first time anyone asks."""
        return cls.objects.get_or_create(pk=1)[0]
