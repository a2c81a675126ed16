"""Designs and finishes in the back office."""

from __future__ import annotations

from django.contrib import admin

from shop.backroom import PlannedBy
from shop.designs.models import Design, Detail, Finish, Pass


class PassInline(admin.TabularInline):
    model = Pass
    extra = 0


class DetailInline(admin.TabularInline):
    model = Detail
    extra = 0


@admin.register(Design)
class DesignAdmin(PlannedBy):
    list_display = ["name", "finish", "sanding_minutes", "price", "is_offered"]
    list_filter = ["is_offered", "finish", "is_glued"]
    list_select_related = ["finish"]
    search_fields = ["name"]
    inlines = [PassInline, DetailInline]


@admin.register(Finish)
class FinishAdmin(PlannedBy):
    list_display = ["name", "soak_least_minutes", "soak_most_minutes", "dry_minutes", "rags_self_heat"]
