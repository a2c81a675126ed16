"""What the owner says on the pages of numbers."""

from __future__ import annotations

from django import forms

from shop.designs.models import Design
from shop.orders.models import Fair, FairSale


class SoldForm(forms.Form):
    """A fair that is over, a row a design: so many brought, so many sold."""

    def __init__(self, *args: object, fair: Fair, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        said = {sale.design_id: sale for sale in fair.sales.all()}
        self.designs = list(Design.objects.filter(is_offered=True))
        for design in self.designs:
            sale = said.get(design.pk)
            for word in ("brought", "sold"):
                field = forms.IntegerField(
                    label=f"{design}: {word}",
                    min_value=0,
                    max_value=1000,
                    required=False,
                    initial=getattr(sale, word, None),
                    widget=forms.NumberInput({"inputmode": "numeric"}),
                )
                self.fields[f"{word}-{design.pk}"] = field

    def rows(self) -> list[tuple[Design, forms.BoundField, forms.BoundField]]:
        return [(design, self[f"brought-{design.pk}"], self[f"sold-{design.pk}"]) for design in self.designs]

    def clean(self) -> dict:
        said = super().clean()
        for design in self.designs:
            brought, sold = (said.get(f"{word}-{design.pk}") or 0 for word in ("brought", "sold"))
            if sold > brought:
                self.add_error(f"sold-{design.pk}", f"Of {brought} {design} brought, {sold} can’t have been sold.")
        return said

    def sales(self, fair: Fair) -> list[FairSale]:
        """A row for every design that was brought."""
        said = self.cleaned_data
        return [
            FairSale(
                fair=fair, design=design, brought=said[f"brought-{design.pk}"], sold=said[f"sold-{design.pk}"] or 0
            )
            for design in self.designs
            if said.get(f"brought-{design.pk}")
        ]
