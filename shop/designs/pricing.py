"""The price of a design on its page: what it costs in a batch, must bring in, and really pays."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from planner import CostSheet, Pay, batch_curve, cost_of, floor_price, price_for_wage, what_it_pays
from shop.designs.costing import Sold, Wages, price_facts
from shop.designs.models import Design
from shop.figures.models import Figures
from shop.plots import Bars, bars
from shop.stations.models import Workshop
from shop.stock.models import Species
from shop.words import dollars

BATCHES = (1, 5, 20)


@dataclass(frozen=True)
class Price:
    """What a piece of a batch costs, what it must bring in, what its price really pays."""

    species: Species | None
    batch_size: int
    sold: Sold
    sheet: CostSheet
    floors: tuple[tuple[Sold, Decimal], ...]
    """Wherever it is sold."""
    wanted: Decimal
    wanted_an_hour: Decimal
    pay: Pay
    curve: tuple[CostSheet, ...]
    plot: Bars

    @property
    def floor(self) -> Decimal:
        return dict(self.floors)[self.sold]

    @property
    def says(self) -> str:
        pays = self.pay.an_hour_of_hands
        hands = "" if pays is None else f" pays {dollars(pays)} an hour of hands and"
        if self.pay.profit_dollars < 0:
            return (
                f"Not worth making at {dollars(self.pay.price_dollars)} {self.sold}: it{hands} "
                f"loses {dollars(-self.pay.profit_dollars)} a piece. {dollars(self.floor)} pays for everything."
            )
        left = dollars(self.pay.profit_dollars)
        return f"At {dollars(self.pay.price_dollars)} {self.sold} it{hands} leaves {left} a piece."


def price_of(design: Design, species: Species | None, batch: int, sold: Sold, figures: Figures) -> Price:
    """Raises PlannerError where a figure makes no sense."""
    read = Design.objects.select_related("finish").prefetch_related("passes__bit", "details").get(pk=design.pk)
    workshop, wages = Workshop.get(), Wages.read(figures)
    by_channel = {
        each: price_facts(read, species, each, figures=figures, workshop=workshop, wages=wages) for each in Sold
    }
    facts = by_channel[sold]
    sheet = cost_of(facts, batch)
    curve = batch_curve(facts, BATCHES)
    return Price(
        species=species,
        batch_size=batch,
        sold=sold,
        sheet=sheet,
        floors=tuple((each, floor_price(own, batch)) for each, own in by_channel.items()),
        wanted=price_for_wage(facts, batch, figures.wanted_dollars_per_hour),
        wanted_an_hour=figures.wanted_dollars_per_hour,
        pay=what_it_pays(facts, batch, design.price),
        curve=curve,
        plot=bars([(_batch_words(each.batch_size), float(each.dollars), dollars(each.dollars)) for each in curve]),
    )


def _batch_words(size: int) -> str:
    return "one by itself" if size == 1 else f"one of {size}"
