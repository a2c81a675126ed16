"""Which orders somebody wants to see: a plain form whose answers stay in the address."""

from __future__ import annotations

from django import forms
from django.db.models import Exists, OuterRef, Q

from shop.orders.models import Fair, Line, Order
from shop.orders.models import OrderQuerySet as Orders

OPEN, ALL = "open", "all"


class FilterForm(forms.Form):
    search = forms.CharField(required=False, max_length=80, widget=forms.TextInput({"type": "search"}))
    state = forms.ChoiceField(
        required=False,
        choices=[(OPEN, "open"), *((str(n), word) for n, word in Order.State.choices), (ALL, "all")],
    )
    channel = forms.ChoiceField(required=False, choices=[("", "any"), *Order.Channel.choices])
    fair = forms.ModelChoiceField(Fair.objects.all(), required=False, empty_label="any")

    def chosen(self, orders: Orders) -> Orders:
        """Of these orders those asked for; an answer that makes no sense is taken as not given."""
        self.full_clean()
        said = self.cleaned_data
        orders = _in_state(orders, said.get("state") or OPEN)
        if said.get("channel"):
            orders = orders.filter(channel=said["channel"])
        if said.get("fair"):
            orders = orders.filter(fair=said["fair"])
        return _matching(orders, said["search"]) if said.get("search") else orders


def _in_state(orders: Orders, state: str) -> Orders:
    if state == ALL:
        return orders
    return orders.open() if state == OPEN else orders.filter(state_number=int(state))


def _matching(orders: Orders, words: str) -> Orders:
    line = Line.objects.filter(order=OuterRef("pk")).filter(Q(text__icontains=words) | Q(design__name__icontains=words))
    return orders.filter(
        Q(reference__icontains=words) | Q(customer__name__icontains=words) | Q(note__icontains=words) | Exists(line)
    )
