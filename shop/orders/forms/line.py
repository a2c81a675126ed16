"""One line of the order pad: what, in which wood, how many, with which words on it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.forms.models import ModelChoiceIteratorValue

from shop.designs.models import Design
from shop.orders.models import Line
from shop.stock.models import Species
from shop.words import dollars

MOST_PIECES = 500
MOST_LINES = 20


class DesignSelect(forms.Select):
    """Every design carries its price and whether it takes text, for the script that fills them in."""

    def create_option(self, name: str, value: Any, *args: Any, **kwargs: Any) -> dict[str, Any]:
        option = super().create_option(name, value, *args, **kwargs)
        if isinstance(value, ModelChoiceIteratorValue) and value:
            option["attrs"] |= {"data-price": str(value.instance.price), "data-text": str(value.instance.takes_text)}
        return option


class DesignField(forms.ModelChoiceField):
    widget = DesignSelect

    def label_from_instance(self, design: Design) -> str:
        return f"{design.name}, {dollars(design.price)}"


class LineForm(forms.Form):
    """A line without a design is an empty one; the first may not be."""

    design = DesignField(Design.objects.filter(is_offered=True), required=False, label="What", empty_label="choose …")
    species = forms.ModelChoiceField(Species.objects.all(), required=False, label="Wood", empty_label="choose …")
    quantity = forms.IntegerField(
        label="How many", min_value=1, max_value=MOST_PIECES, initial=1,
        error_messages={
            "required": "Say how many", "invalid": "How many is a whole number",
            "min_value": "1 is the least", "max_value": f"{MOST_PIECES} in one line is the most",
        },
    )  # fmt: skip
    price = forms.DecimalField(
        label="Price each, $", required=False, min_value=Decimal(0), max_digits=8, decimal_places=2,
        help_text="empty: as the design says",
        error_messages={"invalid": "Write the price like 48.00", "min_value": "A price is 0 or more"},
    )  # fmt: skip
    text = forms.CharField(
        label="Text on it", required=False, max_length=120,
        error_messages={"max_length": "The text is longer than 120 characters"},
    )  # fmt: skip
    artwork = forms.BooleanField(label="artwork", required=False)

    def __init__(self, *args: Any, sets_prices: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not sets_prices:
            del self.fields["price"]
        self.fields["quantity"].widget.attrs["inputmode"] = "numeric"
        self.fields["text"].widget.attrs["autocomplete"] = "off"

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        design = said.get("design")
        if design is None and said.get("text") and "design" not in self.errors:
            self.add_error("design", "Choose what the text goes on")
        if design and not said.get("species") and "species" not in self.errors:
            self.add_error("species", "Choose the wood")
        if design and said.get("text") and not design.takes_text:
            self.add_error("text", f"{design.name} takes no text: clear it, or write it in the note")
        return said

    def line(self) -> Line:
        said = self.cleaned_data
        price = said.get("price")
        return Line(
            design=said["design"],
            species=said["species"],
            quantity=said["quantity"],
            text=said["text"],
            artwork=Line.Artwork.WANTED if said["artwork"] else Line.Artwork.NONE,
            price=said["design"].price if price is None else price,
        )


class BaseLines(forms.BaseFormSet):
    def clean(self) -> None:
        if not self.filled() and not any(form.errors for form in self.forms):
            self.forms[0].add_error("design", "Choose what is ordered")

    def filled(self) -> list[LineForm]:
        return [form for form in self.forms if getattr(form, "cleaned_data", {}).get("design")]


Lines = forms.formset_factory(LineForm, BaseLines, extra=0, min_num=1, max_num=MOST_LINES, absolute_max=MOST_LINES)
