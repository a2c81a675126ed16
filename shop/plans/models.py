"""Dated plans, of which one is in force, and the jobs that make them."""

from __future__ import annotations

from datetime import timedelta

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from shop.floor.models import Step
from shop.orders.models import Order
from shop.stations.models import Person, Station


class PlanQuerySet(models.QuerySet):
    def in_force(self) -> Plan | None:
        """The plan the workshop works by, if there is one yet."""
        return self.filter(is_in_force=True).first()


class Plan(models.Model):
    """A whole plan as it was put in force, with its problem, both as exchange documents."""

    made_at = models.DateTimeField(default=timezone.now)
    read_at = models.DateTimeField(help_text="the instant at which the workshop was as the problem says")
    is_in_force = models.BooleanField(default=False)
    problem = models.JSONField()
    document = models.JSONField()
    cost = models.FloatField()
    bound = models.FloatField(null=True, blank=True)
    stale_since = models.DateTimeField(null=True, blank=True)
    stale_because = models.CharField(max_length=120, blank=True)

    objects = PlanQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(fields=["is_in_force"], condition=Q(is_in_force=True), name="one_plan_in_force")
        ]

    def __str__(self) -> str:
        return f"plan {self.pk}"


class PlannedStep(models.Model):
    """Where a step stands in a plan, ready to be shown."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="steps")
    step = models.ForeignKey(Step, models.CASCADE, related_name="planned")
    starts_at = models.DateTimeField(null=True, blank=True, help_text="empty: no start is left for it")
    ends_at = models.DateTimeField(null=True, blank=True)
    changeover_minutes = models.PositiveSmallIntegerField(default=0)
    person = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="planned_steps")
    stations = models.ManyToManyField(Station, blank=True, related_name="planned_steps")
    why = models.CharField(max_length=300, blank=True, help_text="why it stands there, or why it can't be placed")

    class Meta:
        ordering = ["starts_at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["plan", "step"], name="a_step_once_a_plan"),
            models.CheckConstraint(
                condition=Q(starts_at__isnull=True, ends_at__isnull=True) | Q(starts_at__lt=F("ends_at")),
                name="a_planned_step_takes_time",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.step} at {self.starts_at}"


class Rest(models.Model):
    """A wait between two planned steps with its window: in clamps, soaking, between coats, drying."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="rests")
    before = models.ForeignKey(Step, models.CASCADE, related_name="rests_after")
    after = models.ForeignKey(Step, models.CASCADE, related_name="rests_before")
    least_minutes = models.PositiveIntegerField()
    most_minutes = models.PositiveIntegerField(null=True, blank=True)
    missed_minutes = models.PositiveIntegerField(default=0, help_text="by how much the plan exceeds the window")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["plan", "before", "after"], name="a_rest_once_a_plan")]

    def __str__(self) -> str:
        return f"{self.before}, then {self.after}"


class Expectation(models.Model):
    """When an order is expected to be ready by a plan."""

    plan = models.ForeignKey(Plan, models.CASCADE, related_name="expectations")
    order = models.ForeignKey(Order, models.CASCADE, related_name="expectations")
    ready_at = models.DateTimeField(null=True, blank=True, help_text="empty: something of it can't be placed")
    late_minutes = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["plan", "order"], name="an_order_once_a_plan")]

    def __str__(self) -> str:
        return f"{self.order} ready {self.ready_at}"


class Job(models.Model):
    """A planning run that was asked for. The row is the record: whoever holds its lease works it."""

    class State(models.TextChoices):
        QUEUED = "queued", "waiting to start"
        RUNNING = "running", "running"
        DONE = "done", "done"
        FAILED = "failed", "failed"
        CANCELLED = "cancelled", "cancelled"

    LEASE = timedelta(seconds=30)
    MOST_RUNS = 3

    state = models.CharField(max_length=10, choices=State, default=State.QUEUED)
    because = models.CharField(max_length=120, blank=True)
    seconds = models.PositiveIntegerField(default=20, help_text="how long to search")
    asked_at = models.DateTimeField(default=timezone.now)
    owner = models.CharField(max_length=80, blank=True)
    heartbeat_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    runs = models.PositiveSmallIntegerField(default=0)
    progress = models.JSONField(default=dict, blank=True)
    message = models.CharField(max_length=300, blank=True)
    plan = models.ForeignKey(Plan, models.SET_NULL, null=True, blank=True, related_name="jobs")

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state"])]

    def __str__(self) -> str:
        return f"planning run {self.pk}, {self.get_state_display()}"

    @property
    def is_open(self) -> bool:
        return self.state in {self.State.QUEUED, self.State.RUNNING}
