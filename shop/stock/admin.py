"""Wood, bits and glue in the back office."""

from __future__ import annotations

from django.contrib import admin

from shop.backroom import PlannedBy
from shop.stock.models import Bit, Blank, Board, Glue, Species
from shop.words import inches


class Piled(PlannedBy):
    list_display = ["species", "size", "quantity"]
    list_filter = ["species"]
    list_select_related = ["species"]

    @admin.display(description="size, in")
    def size(self, wood: Board | Blank) -> str:
        return f"{inches(wood.length_nm)} × {inches(wood.width_nm)} × {inches(wood.thickness_nm)}"


admin.site.register([Board, Blank], Piled)


@admin.register(Species)
class SpeciesAdmin(PlannedBy):
    list_display = ["name", "grain"]


@admin.register(Bit)
class BitAdmin(PlannedBy):
    list_display = ["name", "shape", "diameter", "spindle"]
    list_select_related = ["spindle"]

    @admin.display(description="diameter, in")
    def diameter(self, bit: Bit) -> str:
        return inches(bit.diameter_nm)


@admin.register(Glue)
class GlueAdmin(PlannedBy):
    list_display = ["name", "open_minutes", "clamp_minutes", "cure_minutes", "in_use"]
