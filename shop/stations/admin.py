"""The workshop's people, stations and common minutes in the back office."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from shop.backroom import PlannedBy
from shop.stations.models import DayOff, Hours, Person, Skill, Station, Workshop


class SkillInline(admin.TabularInline):
    model = Skill
    extra = 0


class HoursInline(admin.TabularInline):
    model = Hours
    extra = 0


class DayOffInline(admin.TabularInline):
    model = DayOff
    extra = 0


@admin.register(Person)
class PersonAdmin(PlannedBy):
    list_display = ["name", "role", "user", "works_here"]
    inlines = [SkillInline, HoursInline, DayOffInline]

    def save_model(self, request: HttpRequest, obj: Person, form: Any, change: bool) -> None:
        """Whoever becomes the owner may use the back office; whoever stops being it may not."""
        super().save_model(request, obj, form, change)
        if obj.user:
            obj.user.is_staff = obj.user.is_superuser = obj.is_owner
            obj.user.save(update_fields=["is_staff", "is_superuser"])


@admin.register(Station)
class StationAdmin(PlannedBy):
    list_display = ["name", "role", "capacity", "opens", "closes", "down_until"]


@admin.register(DayOff)
class DayOffAdmin(PlannedBy):
    list_display = ["first_day", "last_day", "person", "why"]


@admin.register(Workshop)
class WorkshopAdmin(PlannedBy):
    def has_add_permission(self, *_: object) -> bool:
        return False

    def has_delete_permission(self, *_: object) -> bool:
        return False
