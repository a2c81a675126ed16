"""What the workshop owns and uses up: wood, bits and glue."""

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from planner import Wood, wood_named
from shop.lengths import LengthField
from shop.stations.models import Station

NM_A_64TH = 396_875


class Species(models.Model):
    """A wood, and the line pattern it is drawn with."""

    class Grain(models.TextChoices):
        STRAIGHT = "straight", "straight lines"
        RINGS = "rings", "close rings"
        RAYS = "rays", "rings and rays"
        FLECKS = "flecks", "flecks"
        PORES = "pores", "pores"
        WAVES = "waves", "waves"

    name = models.CharField(max_length=40, unique=True)
    grain = models.CharField(max_length=10, choices=Grain, default=Grain.STRAIGHT)
    moves_like = models.CharField(
        max_length=40, blank=True, help_text="the wood in the handbook's tables it moves like; empty: found by its name"
    )
    dollars_per_board_foot = models.DecimalField(
        "dollars a board foot", max_digits=6, decimal_places=2, default=Decimal(8), validators=[MinValueValidator(0)]
    )

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "species"

    def __str__(self) -> str:
        return self.name

    @property
    def wood(self) -> Wood:
        """What tables say of it."""
        return wood_named(self.moves_like or self.name)


class Bit(models.Model):
    """A router bit: a shape and a size, and the spindle it sits in now."""

    class Shape(models.TextChoices):
        BOWL = "bowl", "bowl"
        FLAT = "flat", "flat"
        DOWN_CUT = "down-cut", "down-cut"
        V = "v", "V"
        ROUND_OVER = "round-over", "round-over"

    name = models.CharField(max_length=40, unique=True)
    shape = models.CharField(max_length=10, choices=Shape)
    diameter_nm = LengthField("diameter")
    corner_radius_nm = LengthField("corner radius of a bowl bit", null=True, blank=True)
    angle_degrees = models.PositiveSmallIntegerField("angle of a V bit, degrees", null=True, blank=True)
    flutes = models.PositiveSmallIntegerField(default=2)
    rpm = models.PositiveIntegerField("turns a minute", default=18_000)
    feed_in_per_minute = models.DecimalField("feed, in a minute", max_digits=5, decimal_places=1, default=Decimal(100))
    plunge_in_per_minute = models.DecimalField(
        "plunge, in a minute", max_digits=5, decimal_places=1, default=Decimal(30)
    )
    depth_per_pass_nm = LengthField("deepest cut at once", default=6_350_000)
    ramp_degrees = models.PositiveSmallIntegerField(
        "enters down a slope of, degrees", default=0, help_text="0: straight down, at the plunge"
    )
    price = models.DecimalField("a new one, dollars", max_digits=6, decimal_places=2, default=Decimal(30))
    life_minutes = models.PositiveIntegerField("cuts well for, minutes", default=600)
    spindle = models.OneToOneField(
        Station, models.SET_NULL, null=True, blank=True, related_name="bit", help_text="the router it sits in now"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(diameter_nm__gt=0),
                name="a_bit_has_a_diameter",
                violation_error_message="A bit's diameter is more than 0.",
            ),
            models.CheckConstraint(
                condition=Q(
                    flutes__gte=1,
                    rpm__gte=1,
                    feed_in_per_minute__gt=0,
                    plunge_in_per_minute__gt=0,
                    depth_per_pass_nm__gte=NM_A_64TH,
                    life_minutes__gte=1,
                    ramp_degrees__lte=45,
                ),
                name="a_bit_cuts",
                violation_error_message="A bit cuts 1/64 in deep or more and enters at most 45 degrees steep.",
            ),
            models.CheckConstraint(
                condition=Q(angle_degrees__isnull=True) | Q(angle_degrees__range=(10, 170)),
                name="a_v_has_an_angle",
                violation_error_message="A V bit's angle is 10 to 170 degrees.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Glue(models.Model):
    """A glue with its clock; the label on the bottle wins over these minutes."""

    class Water(models.IntegerChoices):
        """EN 204; a joint of a higher class does all that a lower one does."""

        D1 = 1, "D1, dry rooms only"
        D2 = 2, "D2, wet now and then for a short while"
        D3 = 3, "D3, often wet for a short while"
        D4 = 4, "D4, often wet for long"

    name = models.CharField(max_length=40, unique=True)
    open_minutes = models.PositiveSmallIntegerField("open time, minutes", default=10)
    clamp_minutes = models.PositiveSmallIntegerField("in clamps, minutes", default=60)
    cure_minutes = models.PositiveIntegerField("rest before machining, minutes", default=18 * 60)
    grams_per_m2 = models.PositiveSmallIntegerField("spread, grams a square metre", default=200)
    water_class = models.PositiveSmallIntegerField(
        "against water, by EN 204",
        choices=Water,
        null=True,
        blank=True,
        help_text="as the label says; empty: it says nothing",
    )
    in_use = models.BooleanField(default=True, help_text="the glue that new panels are glued with")

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["in_use"], condition=Q(in_use=True), name="one_glue_in_use"),
            models.CheckConstraint(
                condition=Q(clamp_minutes__gte=1),
                name="glue_is_clamped",
                violation_error_message="A glue is in clamps for 1 minute or more.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Piled(models.Model):
    """Wood of one species and size, so many of it."""

    species = models.ForeignKey(Species, models.PROTECT, related_name="%(class)ss")
    length_nm = LengthField("length")
    width_nm = LengthField("width")
    thickness_nm = LengthField("thickness")
    quantity = models.PositiveIntegerField(default=1)
    moisture_percent = models.DecimalField(
        "moisture as metered, %",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )

    class Meta:
        abstract = True
        ordering = ["species", "thickness_nm", "pk"]


class Board(Piled):
    """Rough wood as it came from the yard."""

    class Meta(Piled.Meta):
        constraints = [
            models.CheckConstraint(
                condition=Q(length_nm__gt=0, width_nm__gt=0, thickness_nm__gt=0),
                name="a_board_has_a_size",
                violation_error_message="Length, width and thickness are more than 0.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.species} board"


class Blank(Piled):
    """A panel or block flat and ready for the router; a piece made from it skips the glue-up."""

    class Meta(Piled.Meta):
        constraints = [
            models.CheckConstraint(
                condition=Q(length_nm__gt=0, width_nm__gt=0, thickness_nm__gt=0),
                name="a_blank_has_a_size",
                violation_error_message="Length, width and thickness are more than 0.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.species} blank"
