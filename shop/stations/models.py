"""The workshop itself: its clock and common minutes, its stations, the people and when they work."""

from __future__ import annotations

from decimal import Decimal
from zoneinfo import ZoneInfo, available_timezones

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from shop.lengths import LengthField


def check_time_zone(name: str) -> None:
    if name not in available_timezones():
        raise ValidationError(f"{name} is no time zone; write it like America/Chicago.")


class Workshop(models.Model):
    """The one workshop of this site: its clock, and the minutes that don't depend on a design."""

    name = models.CharField(max_length=80)
    time_zone = models.CharField(max_length=60, default="America/Chicago", validators=[check_time_zone])
    rip_minutes = models.PositiveSmallIntegerField("rip and plane strips, minutes a panel", default=6)
    glue_minutes = models.PositiveSmallIntegerField("glue up, minutes a panel", default=7)
    close_minutes = models.PositiveSmallIntegerField(
        "of them to spread the glue and close the clamps, minutes a panel",
        default=3,
        validators=[MinValueValidator(1)],
    )
    unclamp_minutes = models.PositiveSmallIntegerField("take off clamps and scrape, minutes a panel", default=2)
    flatten_minutes = models.PositiveSmallIntegerField("plane flat, minutes a panel", default=4)
    cut_blank_minutes = models.PositiveSmallIntegerField("cut a single blank to size, minutes", default=4)
    load_minutes = models.PositiveSmallIntegerField("zero and check a bed load, minutes", default=5)
    load_minutes_per_piece = models.PositiveSmallIntegerField("fix a piece to the bed, minutes", default=2)
    unload_minutes_per_piece = models.PositiveSmallIntegerField("take a piece off the bed, minutes", default=1)
    bit_change_minutes = models.PositiveSmallIntegerField("change a bit and touch off, minutes", default=4)
    pack_minutes = models.PositiveSmallIntegerField("pack an order, minutes", default=3)
    pack_minutes_per_piece = models.PositiveSmallIntegerField("wrap and label a piece, minutes", default=2)
    window_margin_minutes = models.PositiveSmallIntegerField("be done before a wait window shuts, minutes", default=30)

    class Meta:
        verbose_name_plural = "workshop"
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="one_workshop"),
            models.CheckConstraint(
                condition=Q(close_minutes__gte=1),
                name="closing_a_panel_takes_time",
                violation_error_message="Spreading and closing takes 1 minute a panel or more.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @classmethod
    def get(cls) -> Workshop:
        """The workshop, made with its defaults the first time anyone asks."""
        return cls.objects.get_or_create(pk=1, defaults={"name": "The workshop"})[0]

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)


class Station(models.Model):
    """A place where a step is done; `capacity` counts what it takes at once: clamps, rack places, one bed."""

    class Role(models.TextChoices):
        SAW = "saw", "saw and jointer"
        CLAMPS = "clamps", "clamps"
        PLANER = "planer", "planer"
        ROUTER = "router", "router"
        SANDING = "sanding", "sanding place"
        LASER = "laser", "laser"
        PAINT = "paint", "paint table"
        RACK = "rack", "drying rack"

    name = models.CharField(max_length=60, unique=True)
    role = models.CharField(max_length=10, choices=Role)
    capacity = models.PositiveSmallIntegerField(default=1, help_text="clamps, rack places; 1 for a machine")
    opens = models.TimeField(null=True, blank=True, help_text="empty: at any hour")
    closes = models.TimeField(null=True, blank=True)
    down_until = models.DateTimeField(null=True, blank=True, help_text="out of order until then")
    bed_length_nm = LengthField("bed length", null=True, blank=True)
    bed_width_nm = LengthField("bed width", null=True, blank=True)
    bed_gap_nm = LengthField("gap between pieces on the bed", default=19_050_000)
    rapid_in_per_minute = models.PositiveSmallIntegerField("router: moves without cutting, in a minute", default=200)
    acceleration_in_per_s2 = models.PositiveSmallIntegerField("router: gathers speed, in a second²", default=20)
    retract_nm = LengthField("router: lifts over the wood by", default=6_350_000)
    opening_nm = LengthField("planer: widest panel", default=330_200_000)
    laser_in_per_second = models.DecimalField(
        "laser: engraves, in a second", max_digits=5, decimal_places=1, default=Decimal(12)
    )
    laser_cut_in_per_second = models.DecimalField(
        "laser: cuts or scores, in a second", max_digits=5, decimal_places=2, default=Decimal("0.8")
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(capacity__gte=1),
                name="station_takes_something",
                violation_error_message="A station takes 1 thing or more at once.",
            ),
            models.CheckConstraint(
                condition=~Q(role="router") | Q(capacity=1),
                name="a_router_has_one_bed",
                violation_error_message="A router has one bed.",
            ),
            models.CheckConstraint(
                condition=~Q(role="router") | Q(bed_length_nm__gt=0, bed_width_nm__gt=0),
                name="a_router_has_a_bed",
                violation_error_message="A router's bed has a length and a width.",
            ),
            models.CheckConstraint(
                condition=Q(
                    rapid_in_per_minute__gte=1,
                    acceleration_in_per_s2__gte=1,
                    opening_nm__gt=0,
                    laser_in_per_second__gt=0,
                    laser_cut_in_per_second__gt=0,
                ),
                name="machines_move",
            ),
            models.CheckConstraint(
                condition=Q(opens__isnull=True, closes__isnull=True) | Q(opens__lt=F("closes")),
                name="station_closes_after_it_opens",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_down(self) -> bool:
        """Out of order as we speak."""
        return self.down_until is not None and self.down_until > timezone.now()


class Person(models.Model):
    """One pair of hands, with a sign-in of its own."""

    class Role(models.TextChoices):
        OWNER = "owner", "owner"
        PARTNER = "partner", "partner"

    user = models.OneToOneField(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="person")
    name = models.CharField(max_length=40, unique=True)
    role = models.CharField(max_length=10, choices=Role, default=Role.PARTNER)
    works_here = models.BooleanField(default=True)
    dollars_per_hour = models.DecimalField(
        "an hour of these hands, dollars",
        max_digits=6,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
        help_text="empty: as in the figures",
    )

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "people"

    def __str__(self) -> str:
        return self.name

    @property
    def is_owner(self) -> bool:
        return self.role == self.Role.OWNER


class Skill(models.Model):
    """A kind of work that a person can do."""

    class Kind(models.TextChoices):
        WOOD = "wood", "saw, glue and plane"
        ROUTER = "router", "run the router"
        SANDING = "sanding", "sand"
        DETAIL = "detail", "mask, seal, paint, peel"
        LASER = "laser", "run the laser"
        FINISH = "finish", "oil and wipe"
        PACKING = "packing", "pack"

    person = models.ForeignKey(Person, models.CASCADE, related_name="skills")
    kind = models.CharField(max_length=10, choices=Kind)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "kind"], name="a_skill_once_a_person")]

    def __str__(self) -> str:
        return self.get_kind_display()


class Hours(models.Model):
    """A stretch of a weekday in which a person works, by the clock on the wall."""

    class Weekday(models.IntegerChoices):
        MONDAY = 0, "Monday"
        TUESDAY = 1, "Tuesday"
        WEDNESDAY = 2, "Wednesday"
        THURSDAY = 3, "Thursday"
        FRIDAY = 4, "Friday"
        SATURDAY = 5, "Saturday"
        SUNDAY = 6, "Sunday"

    person = models.ForeignKey(Person, models.CASCADE, related_name="hours")
    weekday = models.PositiveSmallIntegerField(choices=Weekday)
    opens = models.TimeField()
    closes = models.TimeField()

    class Meta:
        ordering = ["weekday", "opens"]
        verbose_name_plural = "hours"
        constraints = [
            models.CheckConstraint(condition=Q(opens__lt=F("closes")), name="hours_end_after_they_begin"),
            models.CheckConstraint(condition=Q(weekday__lte=6), name="hours_on_a_weekday"),
            models.UniqueConstraint(fields=["person", "weekday", "opens"], name="hours_once"),
        ]

    def __str__(self) -> str:
        return f"{self.get_weekday_display()} {self.opens:%H:%M}-{self.closes:%H:%M}"


class DayOff(models.Model):
    """Days on which a person, or the whole workshop, doesn't work."""

    person = models.ForeignKey(
        Person, models.CASCADE, null=True, blank=True, related_name="days_off", help_text="empty: everybody"
    )
    first_day = models.DateField()
    last_day = models.DateField()
    why = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["first_day"]
        verbose_name_plural = "days off"
        constraints = [
            models.CheckConstraint(condition=Q(first_day__lte=F("last_day")), name="days_off_end_after_they_begin")
        ]

    def __str__(self) -> str:
        return f"{self.person or 'everybody'}: {self.first_day} to {self.last_day}"
