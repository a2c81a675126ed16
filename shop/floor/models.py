"""What is being made: pieces, the batches they do steps in, the steps, and what really happened."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import models
from django.db.models import Q
from django.utils.functional import cached_property

from shop.orders.models import Line
from shop.stations.models import Person, Station


class Piece(models.Model):
    """One unit to be made for a line. A spoilt one stays on the books and is made again as a new piece."""

    line = models.ForeignKey(Line, models.CASCADE, related_name="pieces")
    number = models.PositiveSmallIntegerField(help_text="which of the line's pieces, from 1")
    made_again_for = models.OneToOneField("self", models.CASCADE, null=True, blank=True, related_name="made_again_as")
    spoilt_at = models.DateTimeField(null=True, blank=True)
    spoilt_why = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["line", "number"], condition=Q(spoilt_at__isnull=True), name="a_unit_is_made_once"
            ),
            models.CheckConstraint(condition=Q(number__gte=1), name="pieces_count_from_one"),
        ]

    def __str__(self) -> str:
        return f"{self.line.design} {self.number} of {self.line.quantity} for {self.line.order}"


class Batch(models.Model):
    """Pieces that do their steps together: a glue-up, a bed load, an oiling, or a handful at the bench."""

    class Kind(models.TextChoices):
        GLUE_UP = "glue-up", "glue-up"
        BED_LOAD = "bed load", "bed load"
        BENCH = "bench", "bench lot"
        OILING = "oiling", "oiling"
        PACKING = "packing", "packing"

    key = models.CharField(max_length=80, unique=True, help_text="made from its kind and its pieces")
    kind = models.CharField(max_length=10, choices=Kind)

    class Meta:
        verbose_name_plural = "batches"

    def __str__(self) -> str:
        return self.key


class StepQuerySet(models.QuerySet):
    """Words for reading steps."""

    def begun(self) -> StepQuerySet:
        return self.filter(begun_at__isnull=False)

    def waiting(self) -> StepQuerySet:
        return self.filter(begun_at=None, dropped_at=None)

    def going(self) -> StepQuerySet:
        """Begun, and nobody has said it is done."""
        return self.filter(begun_at__isnull=False, tick=None)


class Step(models.Model):
    """One job at one place, done by a batch of pieces together.

    A step that a later plan no longer wants is dropped, not deleted: whoever still sees it on a phone
    can tick it, and its pieces have been through that work all the same.
    """

    key = models.CharField(max_length=80, unique=True, help_text="its stage and its pieces; the id in the exchange")
    batch = models.ForeignKey(Batch, models.CASCADE, related_name="steps")
    stage = models.CharField(max_length=20, help_text="which stage of a piece's route: glue, router, paint 2 …")
    kind = models.CharField(max_length=10, help_text="what is done: glue, router, paint …")
    what = models.CharField(max_length=200, help_text="what to do, as a person says it")
    pieces = models.ManyToManyField(Piece, related_name="steps")
    segments = models.JSONField(help_text="[minutes, need] in order; need is hands, watch or alone")
    skill = models.CharField(max_length=10)
    about = models.JSONField(default=dict, help_text="facts for people: bits, thickness, positions on the bed …")
    dropped_at = models.DateTimeField(null=True, blank=True, help_text="since when no plan wants it")
    begun_at = models.DateTimeField(null=True, blank=True)
    begun_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="begun_steps")
    begun_at_stations = models.ManyToManyField(Station, blank=True, related_name="begun_steps")
    taken = models.JSONField(default=dict, help_text="what its beginning took and changed, so that undo restores that")

    objects = StepQuerySet.as_manager()

    class Meta:
        indexes = [models.Index(fields=["begun_at"]), models.Index(fields=["dropped_at"])]

    def __str__(self) -> str:
        return self.what

    @property
    def minutes(self) -> int:
        """From start to end, as planned."""
        return sum(minutes for minutes, _ in self.segments)

    @property
    def attended_minutes(self) -> int:
        """Until nobody needs to be there: all but the last stretch that may be left alone."""
        *_, (last_minutes, last_need) = self.segments
        return self.minutes - (last_minutes if last_need == "alone" else 0)

    @property
    def alone_minutes(self) -> int:
        """The stretch at the end that may be left alone: in clamps, drying."""
        return self.minutes - self.attended_minutes

    @cached_property
    def ticked(self) -> Tick | None:
        """Its tick, if somebody said it is done."""
        return getattr(self, "tick", None)

    @property
    def state(self) -> str:
        """waiting, going or done."""
        if self.ticked:
            return "done"
        return "going" if self.begun_at else "waiting"

    @property
    def ended_at(self) -> datetime | None:
        """When the wood has been through it: the tick, and what it then stands alone."""
        return self.ticked.at + timedelta(minutes=self.alone_minutes) if self.ticked else None


class Tick(models.Model):
    """A step whose hands-on part is finished, and how long that really took."""

    step = models.OneToOneField(Step, models.CASCADE, related_name="tick")  # unique: of two ticks at once, one stands
    at = models.DateTimeField()
    minutes = models.PositiveIntegerField()
    by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="ticks")

    class Meta:
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.step}: {self.minutes} min"
