"""Wood plans in the back office: to look at."""

from django.contrib import admin

from shop.backroom import ReadOnly
from shop.wood.models import WoodPlan


@admin.register(WoodPlan)
class WoodPlanAdmin(ReadOnly):
    list_display = ["made_at", "until"]
