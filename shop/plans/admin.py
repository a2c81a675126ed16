"""Plans and planning runs, to look at in the back office."""

from __future__ import annotations

from django.contrib import admin

from shop.backroom import ReadOnly
from shop.plans.models import Expectation, Job, Plan, PlannedStep, Rest


@admin.register(Plan)
class PlanAdmin(ReadOnly):
    list_display = ["__str__", "made_at", "is_in_force", "cost", "bound", "stale_because"]
    exclude = ["problem", "document"]  # megabytes, and export_plan writes them to files


@admin.register(PlannedStep)
class PlannedStepAdmin(ReadOnly):
    list_display = ["step", "starts_at", "ends_at", "person", "why"]
    list_filter = ["plan"]
    list_select_related = ["step", "person"]


@admin.register(Rest)
class RestAdmin(ReadOnly):
    list_display = ["__str__", "least_minutes", "most_minutes", "missed_minutes"]
    list_select_related = ["before", "after"]


@admin.register(Expectation)
class ExpectationAdmin(ReadOnly):
    list_display = ["order", "ready_at", "late_minutes"]
    list_filter = ["plan"]
    list_select_related = ["order"]


@admin.register(Job)
class JobAdmin(ReadOnly):
    list_display = ["__str__", "because", "asked_at", "finished_at", "runs", "message"]
    list_filter = ["state"]
