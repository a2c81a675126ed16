"""What is being made, to look at in the back office."""

from __future__ import annotations

from django.contrib import admin

from shop.backroom import ReadOnly
from shop.floor.models import Batch, Piece, Step, Tick


@admin.register(Piece)
class PieceAdmin(ReadOnly):
    list_display = ["line", "number", "spoilt_at", "spoilt_why"]
    list_select_related = ["line__order", "line__design", "line__species"]


@admin.register(Batch)
class BatchAdmin(ReadOnly):
    list_display = ["key", "kind"]
    list_filter = ["kind"]


@admin.register(Step)
class StepAdmin(ReadOnly):
    list_display = ["what", "kind", "begun_at", "begun_by", "dropped_at"]
    list_filter = ["kind"]
    list_select_related = ["begun_by"]


@admin.register(Tick)
class TickAdmin(ReadOnly):
    list_display = ["step", "at", "minutes", "by"]
    list_select_related = ["step", "by"]
