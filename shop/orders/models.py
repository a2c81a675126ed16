"""Who wants what by when: customers, fairs, orders and their lines."""

from __future__ import annotations

import uuid
from datetime import datetime
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Case, Count, Exists, F, OuterRef, Prefetch, Q, Subquery, Sum, When
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils import timezone

from shop.designs.models import Design
from shop.stock.models import Species


class Customer(models.Model):
    """Somebody who ordered."""

    name = models.CharField(max_length=80, unique=True)
    contact = models.CharField(max_length=120, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Fair(models.Model):
    """A craft fair; what is made for it is worth nothing after it opens."""

    name = models.CharField(max_length=80, unique=True)
    place = models.CharField(max_length=80, blank=True)
    opens_at = models.DateTimeField()
    closes_at = models.DateTimeField()

    class Meta:
        ordering = ["opens_at"]
        constraints = [
            models.CheckConstraint(condition=Q(opens_at__lt=F("closes_at")), name="a_fair_closes_after_it_opens")
        ]

    def __str__(self) -> str:
        return self.name


class FairSale(models.Model):
    """What a fair that is over said of a design: so many on the table, so many sold."""

    fair = models.ForeignKey(Fair, models.CASCADE, related_name="sales")
    design = models.ForeignKey(Design, models.CASCADE, related_name="fair_sales")
    brought = models.PositiveSmallIntegerField()
    sold = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["fair", "design"]
        constraints = [
            models.UniqueConstraint(fields=["fair", "design"], name="a_design_counted_once_a_fair"),
            models.CheckConstraint(condition=Q(sold__lte=F("brought")), name="no_more_sold_than_brought"),
        ]

    def __str__(self) -> str:
        return f"{self.design} at {self.fair}: {self.sold} of {self.brought}"


class OrderQuerySet(models.QuerySet):
    """Words for reading orders."""

    def open(self) -> OrderQuerySet:
        """Still to be made or handed over."""
        return self.filter(cancelled_at=None, handed_over_at=None)

    def with_names(self) -> OrderQuerySet:
        """With all that a page says of an order."""
        lines = Prefetch("lines", Line.objects.select_related("design", "species"))
        return self.select_related("customer", "fair").prefetch_related(lines)

    def with_progress(self) -> OrderQuerySet:
        """With `pieces_ordered`, `pieces_ready` (packed) and `pieces_left`."""
        mine = Line.objects.filter(order=OuterRef("pk")).order_by().values("order")
        packed = mine.filter(pieces__spoilt_at=None, pieces__steps__kind="pack", pieces__steps__tick__isnull=False)
        ordered = mine.annotate(n=Sum("quantity")).values("n")
        ready = packed.annotate(n=Count("pieces", distinct=True)).values("n")
        counted = self.annotate(
            pieces_ordered=Coalesce(Subquery(ordered), 0), pieces_ready=Coalesce(Subquery(ready), 0)
        )
        return counted.annotate(pieces_left=F("pieces_ordered") - F("pieces_ready"))

    def with_expectation(self) -> OrderQuerySet:
        """With `is_planned` and `expected_at` from the plan in force, both empty while it doesn't know the order."""
        in_force = Order.objects.filter(pk=OuterRef("pk"), expectations__plan__is_in_force=True).order_by()
        return self.annotate(
            is_planned=Exists(in_force), expected_at=Subquery(in_force.values("expectations__ready_at")[:1])
        )

    def with_reason(self) -> OrderQuerySet:
        """With `why_stuck`: what the plan in force says of the first step of the order that it left out."""
        left_out = Line.objects.filter(
            order=OuterRef("pk"),
            pieces__spoilt_at=None,
            pieces__steps__planned__plan__is_in_force=True,
            pieces__steps__planned__starts_at=None,
            pieces__steps__begun_at=None,
        ).order_by("pieces__steps__planned__pk")
        return self.annotate(why_stuck=Subquery(left_out.values("pieces__steps__planned__why")[:1]))

    def with_state(self) -> OrderQuerySet:
        """With all that `Order.state` is told from, and the state itself as a number: the worst first."""
        states = Order.State
        told = self.with_progress().with_expectation()
        return told.annotate(
            state_number=Case(
                When(cancelled_at__isnull=False, then=states.CANCELLED),
                When(handed_over_at__isnull=False, then=states.HANDED_OVER),
                When(pieces_left__lte=0, then=states.READY),
                When(is_planned=True, expected_at=None, then=states.STUCK),
                When(Q(expected_at__gt=F("due_at")) | Q(due_at__lt=timezone.now()), then=states.LATE),
                When(is_planned=False, then=states.UNPLANNED),
                When(expected_at__lt=timezone.now(), then=states.BEHIND),
                default=states.IN_TIME,
                output_field=models.IntegerField(),
            )
        )

    def worst_first(self) -> OrderQuerySet:
        """What needs somebody's care comes first, then by due."""
        return self.order_by("state_number", "due_at", "pk")


class Order(models.Model):
    """One promise: its lines must all be ready by `due_at`."""

    class Channel(models.TextChoices):
        FAIR = "fair", "for a fair"
        ONLINE = "online", "online"
        IN_PERSON = "in person", "in person"
        STOCK = "shop stock", "shop stock"

    class State(models.IntegerChoices):
        """How an order stands, the worst first."""

        STUCK = 1, "can't be planned"
        LATE = 2, "late"
        BEHIND = 3, "behind the plan"
        UNPLANNED = 4, "not planned yet"
        IN_TIME = 5, "in time"
        READY = 6, "ready"
        HANDED_OVER = 7, "handed over"
        CANCELLED = 8, "cancelled"

    reference = models.CharField(max_length=40, unique=True)
    placed_at = models.DateTimeField(default=timezone.now)
    channel = models.CharField(max_length=10, choices=Channel)
    fair = models.ForeignKey(Fair, models.PROTECT, null=True, blank=True, related_name="orders")
    customer = models.ForeignKey(Customer, models.PROTECT, null=True, blank=True, related_name="orders")
    due_at = models.DateTimeField()
    is_hard = models.BooleanField("worthless when late", default=False)
    note = models.TextField(blank=True)
    form_key = models.UUIDField(
        null=True,
        blank=True,
        unique=True,
        editable=False,
        help_text="the form it came from, so that a double tap is one order",
    )
    cancelled_at = models.DateTimeField(null=True, blank=True)
    handed_over_at = models.DateTimeField(null=True, blank=True)

    objects = OrderQuerySet.as_manager()

    class Meta:
        ordering = ["due_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(channel="fair") | Q(fair__isnull=False), name="a_fair_order_names_its_fair"
            ),
            models.CheckConstraint(condition=~Q(reference=""), name="an_order_has_a_reference"),
            models.CheckConstraint(
                condition=Q(cancelled_at__isnull=True) | Q(handed_over_at__isnull=True),
                name="a_cancelled_order_is_not_handed_over",
            ),
        ]

    def __str__(self) -> str:
        return self.reference

    def get_absolute_url(self) -> str:
        return reverse("orders:order", args=[self.pk])

    @property
    def who(self) -> str:
        """For whom it is, in a word."""
        return str(self.customer or self.fair or self.get_channel_display())

    @property
    def is_open(self) -> bool:
        """Still to be made or handed over."""
        return self.cancelled_at is None and self.handed_over_at is None

    @property
    def state(self) -> State:
        """How it stands; only on orders read `with_state`."""
        return self.State(self.state_number)

    @property
    def is_in_trouble(self) -> bool:
        return self.state <= self.State.LATE

    @property
    def early_minutes(self) -> int | None:
        """From the expected finish to the due time, less than 0 where late; only on orders read `with_state`."""
        if self.expected_at is None:
            return None
        return round((self.due_at - self.expected_at).total_seconds() / 60)

    @property
    def late_minutes(self) -> int:
        return max(0, -(self.early_minutes or 0))

    @property
    def closed_at(self) -> datetime | None:
        return self.cancelled_at or self.handed_over_at

    @property
    def total(self) -> Decimal:
        return sum((line.quantity * line.price for line in self.lines.all()), Decimal(0))


class Line(models.Model):
    """So many pieces of one design in one wood, all with the same text and artwork."""

    class Artwork(models.TextChoices):
        NONE = "none", "no artwork"
        WANTED = "wanted", "artwork wanted"
        RECEIVED = "received", "artwork received"
        APPROVED = "approved", "artwork approved"

    order = models.ForeignKey(Order, models.CASCADE, related_name="lines")
    design = models.ForeignKey(Design, models.PROTECT, related_name="lines")
    species = models.ForeignKey(Species, models.PROTECT, related_name="lines")
    quantity = models.PositiveSmallIntegerField(default=1)
    text = models.CharField("personalisation", max_length=120, blank=True)
    artwork = models.CharField(max_length=10, choices=Artwork, default=Artwork.NONE)
    price = models.DecimalField("price each", max_digits=8, decimal_places=2)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_line_orders_something"),
            models.CheckConstraint(condition=Q(price__gte=0), name="a_line_is_not_paid_to_go"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} {self.design} in {self.species}"


class Upload(models.Model):
    """A file of orders somebody is bringing in: kept as text, between its dry run and its import, for a day."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="uploads")
    name = models.CharField(max_length=120, help_text="what the file was called; only ever shown")
    sha256 = models.CharField(max_length=64)
    text = models.TextField()
    matching = models.JSONField(default=dict, help_text="our column -> the file's header")
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.name
