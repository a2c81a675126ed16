"""How the back office (Django's admin) treats rows: what is planned by is changed aloud, what happened is only read."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Model, QuerySet
from django.http import HttpRequest

from shop.signals import tell_work_changed


class PlannedBy(admin.ModelAdmin):
    """Rows that plans are made from: whoever changes them makes the plan stale."""

    def save_related(self, request: HttpRequest, form: Any, formsets: Any, change: bool) -> None:
        super().save_related(request, form, formsets, change)
        tell_work_changed(self.model, f"{form.instance} was {'changed' if change else 'added'}")

    def delete_model(self, request: HttpRequest, obj: Model) -> None:
        super().delete_model(request, obj)
        tell_work_changed(self.model, f"{obj} was removed")

    def delete_queryset(self, request: HttpRequest, queryset: QuerySet) -> None:
        super().delete_queryset(request, queryset)
        tell_work_changed(self.model, f"some {self.opts.verbose_name_plural} were removed")


class ReadOnly(admin.ModelAdmin):
    """Rows that say what happened: here they can be looked at and not touched."""

    def has_add_permission(self, *_: object) -> bool:
        return False

    def has_change_permission(self, *_: object) -> bool:
        return False

    def has_delete_permission(self, *_: object) -> bool:
        return False
