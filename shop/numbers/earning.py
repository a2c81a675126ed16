"""Designs by what they earn: each with what it brings in, what it takes of every station, what it really pays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from django.db.models import Count
from django.utils.timezone import now

from planner import (
    Pay,
    PlannerError,
    PriceFacts,
    Ranked,
    Ranking,
    RankRow,
    StationLoad,
    clamps_for,
    cost_of,
    what_it_pays,
)
from planner import rank_by_scarcest as rank
from shop.designs.costing import Sold, Wages, bench_minutes, price_facts, set_up_minutes
from shop.designs.models import Design, Detail
from shop.figures.models import Figures
from shop.numbers.loads import BENCH, BY_SKILL, CLAMPS, DETAIL, HANDS, LASER, RACK, ROUTER, loads_until
from shop.orders.models import Line
from shop.plans.handoff.designs import design_values
from shop.plans.models import Plan
from shop.plots import Bars, bars
from shop.stations.models import Workshop
from shop.stock.models import Glue, Species
from shop.words import dollars

DAYS_AHEAD = 14


@dataclass(frozen=True)
class Earner:
    """A design in its usual wood, with its facts and what one piece takes of everything."""

    design: Design
    species: Species | None
    facts: PriceFacts
    pay: Pay
    minutes: Mapping[str, Decimal]

    @property
    def used_up_dollars(self) -> Decimal:
        """What a piece uses up: all its cost but hands and machines."""
        sheet = cost_of(self.facts, 1)
        return sum((line.dollars for line in sheet.lines if line.minutes is None), Decimal(0))

    @property
    def throughput_dollars(self) -> Decimal:
        return self.pay.income_dollars - self.used_up_dollars


@dataclass(frozen=True)
class Earnings:
    """The ranking with its plot, and what could not be reckoned."""

    ranking: Ranking
    loads: Mapping[str, StationLoad]
    rows: tuple[tuple[Ranked, Earner], ...]
    plot: Bars
    problems: tuple[str, ...]

    @property
    def not_worth(self) -> list[Earner]:
        return [earner for ranked, earner in self.rows if not ranked.is_worth_making]

    @property
    def fullness(self) -> list[tuple[str, float, StationLoad]]:
        """Each resource with how full it is in per cent, the fullest first."""
        full = [(name, 100 * load.share, load) for name, load in self.loads.items() if load.open_minutes]
        return sorted(full, key=lambda each: -each[1])


def earners(sold: Sold) -> tuple[list[Earner], list[str]]:
    """Every design that is offered, in the wood it is ordered in most, and what is wrong with those left out."""
    figures, workshop = Figures.get(), Workshop.get()
    wages = Wages.read(figures)
    woods = {wood.pk: wood for wood in Species.objects.all()}
    usual = _usual_woods()
    rows = Design.objects.filter(is_offered=True).select_related("finish").prefetch_related("passes__bit", "details")
    designs = list(rows)
    values = design_values((design.pk for design in designs), figures)
    glue = Glue.objects.filter(in_use=True).first()
    found, problems = [], []
    for design in designs:
        species = woods.get(usual.get(design.pk, 0)) or next(iter(woods.values()), None)
        try:
            facts = price_facts(design, species, sold, figures=figures, workshop=workshop, wages=wages)
            pay = what_it_pays(facts, figures.usual_batch, design.price)
        except PlannerError as error:
            problems.append(str(error))
            continue
        clamps = clamps_for(values[design.pk]) if design.is_glued and glue else 0
        minutes = _minutes(design, workshop, figures.usual_batch, clamps * (glue.clamp_minutes if glue else 0))
        found.append(Earner(design, species, facts, pay, minutes))
    return found, problems


def earnings(plan: Plan | None) -> Earnings:
    """Designs sold online, by what an hour of the next two weeks' scarcest station earns; without a plan, of all."""
    found, problems = earners(Sold.ONLINE)
    at = now()
    loads = loads_until(plan, at, at + timedelta(days=DAYS_AHEAD)) if plan else {}
    rows = [
        RankRow(
            str(each.design.pk),
            str(each.design),
            each.throughput_dollars,
            each.pay.profit_dollars,
            {name: minutes for name, minutes in each.minutes.items() if name not in BY_SKILL or name in loads},
        )
        for each in found
    ]
    ranking = rank(rows, loads)
    by_id = {str(each.design.pk): each for each in found}
    drawn = [
        (
            each.row.name,
            float(each.dollars_an_hour or 0),
            "takes none" if each.dollars_an_hour is None else dollars(each.dollars_an_hour),
        )
        for each in ranking.rows
    ]
    return Earnings(
        ranking, loads, tuple((each, by_id[each.row.id]) for each in ranking.rows), bars(drawn), tuple(problems)
    )


def _minutes(design: Design, workshop: Workshop, batch: int, clamp_minutes: int) -> dict[str, Decimal]:
    """Minutes of every resource that one piece of a usual batch takes; of clamps and rack minutes of one place."""
    passes, details = list(design.passes.all()), list(design.details.all())
    carving = sum(row.minutes for row in details if row.kind == Detail.Kind.CARVE)
    laser = sum(row.minutes for row in details if row.kind == Detail.Kind.LASER)
    shared = Decimal(set_up_minutes(passes, workshop)) / batch
    bed = workshop.load_minutes_per_piece + workshop.unload_minutes_per_piece
    routed = sum((row.minutes for row in passes), Decimal(carving))
    finish = design.finish
    on_the_rack = (
        finish.coats * (finish.apply_minutes + finish.soak_least_minutes + finish.dry_minutes) if finish else 0
    )
    at_the_bench = Decimal(bench_minutes(design, workshop)) + shared
    by_hand = sum(row.minutes for row in details if row.kind not in {Detail.Kind.CARVE, Detail.Kind.LASER})
    return {
        ROUTER: routed + bed + shared,
        HANDS: at_the_bench + by_hand,
        BENCH: at_the_bench,
        DETAIL: Decimal(by_hand),
        LASER: Decimal(laser),
        CLAMPS: Decimal(clamp_minutes),
        RACK: Decimal(on_the_rack),
    }


def _usual_woods() -> dict[int, int]:
    """By design the wood it is ordered in most."""
    counted = Line.objects.values_list("design_id", "species_id").annotate(n=Count("pk")).order_by("n", "species_id")
    return {design: species for design, species, _ in counted}
