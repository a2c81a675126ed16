"""The order pad: an order and its lines on one screen, with what was said last time filled in."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from typing import Any
from zoneinfo import ZoneInfo

from django.http import QueryDict

from shop.forms import problems_of
from shop.orders.forms.line import MOST_LINES, Lines
from shop.orders.forms.order import AT_THE_FAIR, OrderForm
from shop.orders.models import Order
from shop.orders.services import Draft

FIRST_TIME = {"channel": Order.Channel.IN_PERSON, "fair": "", "species": ""}
TWO_WEEKS = "2"


class OrderPad:
    """`last` is what `remember` gave the time before."""

    def __init__(self, data: QueryDict | None, *, last: dict[str, Any], zone: ZoneInfo, sets_prices: bool) -> None:
        last = FIRST_TIME | last
        due = AT_THE_FAIR if last["channel"] == Order.Channel.FAIR else TWO_WEEKS
        usual = {"form_key": uuid.uuid4(), "channel": last["channel"], "fair": last["fair"], "due": due}
        self.order = OrderForm(data, initial=usual, zone=zone)
        self.lines = Lines(
            _with_a_line(data),
            prefix="line",
            initial=[{"species": last["species"]}],
            form_kwargs={"sets_prices": sets_prices},
        )

    @classmethod
    def with_another_line(cls, data: QueryDict, **kwargs: Any) -> OrderPad:
        """The pad as it was typed so far, unchecked, and an empty line under it."""
        pad = cls(None, **kwargs)
        number = min(_number(data.get("line-TOTAL_FORMS")) + 1, MOST_LINES)
        pad.order.initial = {name: data.get(name, "") for name in pad.order.fields}
        typed = [{name: data.get(f"line-{n}-{name}", "") for name in _LINE_FIELDS} for n in range(number)]
        typed[-1] |= {"species": typed[0]["species"], "quantity": 1}
        pad.lines = Lines(prefix="line", initial=typed, form_kwargs=pad.lines.form_kwargs)
        pad.lines.min_num = 0  # else an empty line more than typed would follow
        return pad

    def is_valid(self) -> bool:
        return all([self.order.is_valid(), self.lines.is_valid()])

    def draft(self) -> Draft:
        lines = [form.line() for form in self.lines.filled()]
        return Draft(self.order.order(), lines, self.order.cleaned_data["customer"])

    def remember(self) -> dict[str, Any]:
        """What the next order is likely to share with this one; plain values for the session."""
        order, first = self.order.cleaned_data, self.lines.filled()[0].cleaned_data
        fair = order["fair"]
        return {"channel": order["channel"], "fair": fair.pk if fair else "", "species": first["species"].pk}

    def problems(self) -> Iterator[tuple[str, str]]:
        return problems_of(*self.lines.forms, self.order)


_LINE_FIELDS = ("design", "species", "quantity", "price", "text", "artwork")


def _with_a_line(data: QueryDict | None) -> QueryDict | None:
    """A form that lost the counts of its lines has one line, which may be empty."""
    if data is None:
        return None
    counted = data.copy()
    for count, least in (("line-TOTAL_FORMS", 1), ("line-INITIAL_FORMS", 0)):
        counted[count] = str(max(least, _number(data.get(count))))
    return counted


def _number(text: str | None) -> int:
    return int(text) if text and text.isascii() and text.isdigit() and len(text) < 4 else 1
