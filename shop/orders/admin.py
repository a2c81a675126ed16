"""Customers, fairs and orders in the back office."""

from __future__ import annotations

from django.contrib import admin

from shop.backroom import PlannedBy, ReadOnly
from shop.orders.models import Customer, Fair, FairSale, Line, Order, Upload


class LineInline(admin.TabularInline):
    model = Line
    extra = 0


@admin.register(Order)
class OrderAdmin(PlannedBy):
    list_display = ["reference", "channel", "customer", "fair", "due_at", "is_hard", "cancelled_at", "handed_over_at"]
    list_filter = ["channel", "fair"]
    list_select_related = ["customer", "fair"]
    search_fields = ["reference", "customer__name"]
    date_hierarchy = "due_at"
    inlines = [LineInline]


class SaleInline(admin.TabularInline):
    model = FairSale
    extra = 0


@admin.register(Fair)
class FairAdmin(PlannedBy):
    inlines = [SaleInline]
    list_display = ["name", "place", "opens_at", "closes_at"]


@admin.register(Customer)
class CustomerAdmin(admin.ModelAdmin):
    list_display = ["name", "contact"]
    search_fields = ["name"]


@admin.register(Upload)
class UploadAdmin(ReadOnly):
    list_display = ["name", "owner", "made_at"]
    exclude = ["text"]


@admin.register(FairSale)
class FairSaleAdmin(admin.ModelAdmin):
    list_display = ["fair", "design", "brought", "sold"]
    list_select_related = ["fair", "design"]
