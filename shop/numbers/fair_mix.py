"""What to make for a fair: demand by design, the newsvendor's quantity, and the mix that fits the hours left."""

from __future__ import annotations

import uuid
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal

from django.core import signing
from django.db.models import Sum

from planner import (
    Demand,
    HourPrice,
    Mix,
    MixProduct,
    PlannerError,
    Sale,
    StationLoad,
    best_mix,
    critical_ratio,
    demand_from_sales,
    marginal_values,
    newsvendor_pieces,
)
from shop.designs.costing import Sold
from shop.designs.models import Design
from shop.figures.models import Figures
from shop.numbers.earning import Earner, earners
from shop.numbers.loads import CLAMPS, LASER, ROUTER, loads_until
from shop.orders.models import Fair, FairSale, Line, Order
from shop.orders.services import Draft, take_order
from shop.plans.models import Plan
from shop.stock.models import Glue

MOST_OF_A_DESIGN = 40
SALT = "a mix between its look and its order"
AN_HOUR = 3600


@dataclass(frozen=True)
class Candidate:
    """A design for the fair: what people want of it, what pays best of it alone, what is on its way already."""

    earner: Earner
    demand: Demand
    fairs: int
    alone: int
    there: int
    pieces: int = 0


@dataclass(frozen=True)
class FairMix:
    """The mix for a fair. `mix` is None where it can't be reckoned, and `problem` says why."""

    fair: Fair
    candidates: tuple[Candidate, ...]
    unknown: tuple[Earner, ...]
    mix: Mix | None
    problem: str = ""
    left_minutes: Mapping[str, float] = field(default_factory=dict)

    @property
    def chosen(self) -> list[Candidate]:
        return [each for each in self.candidates if each.pieces]

    def sealed(self) -> str:
        """What is shown, for a form to send back as it is; sent twice, it is one order."""
        pieces = {each.earner.design.pk: each.pieces for each in self.chosen}
        return signing.dumps({"key": str(uuid.uuid4()), "fair": self.fair.pk, "pieces": pieces}, salt=SALT)

    @property
    def scarce(self) -> list[HourPrice]:
        """What one more hour of would add something, the dearest first."""
        prices = self.mix.hour_prices if self.mix else ()
        worth = [each for each in prices if each.at_the_margin > 0 or each.in_whole_pieces > 0]
        return sorted(worth, key=lambda each: (-each.in_whole_pieces, -each.at_the_margin))

    @property
    def spare(self) -> list[str]:
        """Of what there is enough."""
        dear = {each.resource for each in self.scarce}
        return [each.resource for each in (self.mix.hour_prices if self.mix else ()) if each.resource not in dear]

    @property
    def pieces(self) -> int:
        return sum(each.pieces for each in self.candidates)

    @property
    def hours(self) -> list[tuple[str, float, float]]:
        """Each resource with the hours the mix takes and those that were left for it."""
        used = self.mix.used_minutes if self.mix else {}
        return [(name, minutes / 60, self.left_minutes[name] / 60) for name, minutes in used.items()]


def mix_for(fair: Fair, plan: Plan | None, at: datetime) -> FairMix:
    """By what past fairs and guesses say, within what the plan leaves free until the fair opens."""
    found, problems = earners(Sold.FAIR)
    sales = _sales()
    there = _on_the_way(fair)
    off = Figures.get().seconds_off_percent / 100
    known, unknown = [], []
    for earner in found:
        past = sales.get(earner.design.pk, [])
        if not past and earner.design.fair_guess is None:
            unknown.append(earner)
            continue
        demand = demand_from_sales(past, guess=earner.design.fair_guess)
        alone = newsvendor_pieces(demand, critical_ratio(*_money(earner, off)))
        known.append(Candidate(earner, demand, len(past), alone, there.get(earner.design.pk, 0)))
    if plan is None:
        return FairMix(
            fair, tuple(known), tuple(unknown), None, "There is no plan yet, so nobody knows the hours left."
        )
    loads = _loads_in_time(plan, at, fair.opens_at, [each.earner.design for each in known])
    promised = _not_planned_yet(found, plan)
    left = {
        name: max(0.0, load.open_minutes - load.used_minutes - promised.get(name, 0.0)) for name, load in loads.items()
    }
    try:
        mix = best_mix([_product(each, off) for each in known], left)
    except PlannerError as error:
        return FairMix(fair, tuple(known), tuple(unknown), None, str(error))
    chosen = [Candidate(c.earner, c.demand, c.fairs, c.alone, c.there, mix.pieces[_id(c)]) for c in known]
    chosen.sort(key=lambda each: (-each.pieces, each.earner.design.name))
    return FairMix(fair, tuple(chosen), tuple(unknown), mix, " ".join(problems), left)


def _loads_in_time(plan: Plan, at: datetime, opens_at: datetime, designs: Sequence[Design]) -> dict[str, StationLoad]:
    """Hours that still help: before them the slowest of these designs’ glue cures, after them its finish dries."""
    glue = Glue.objects.filter(in_use=True).first()
    cures = glue.clamp_minutes + glue.cure_minutes if glue and any(design.is_glued for design in designs) else 0
    finishes = [design.finish for design in designs if design.finish]
    dries = max((each.coats * (each.soak_least_minutes + each.dry_minutes) for each in finishes), default=0)
    before, after = timedelta(minutes=cures), timedelta(minutes=dries)
    loads = loads_until(plan, at, opens_at)
    for names, first, last in (
        ((CLAMPS,), at, opens_at - before - after),
        ((ROUTER, LASER), at + before, opens_at - after),
    ):
        within = loads_until(plan, first, last) if first < last else {}
        loads |= {name: within.get(name, StationLoad(0.0, 0.0)) for name in names if name in loads}
    return loads


def order_the_mix(fair: Fair, shown: str, at: datetime) -> Order | None:
    """One shop-stock order for the fair of what was shown, a line a design; sent twice, it is one order.

    None where it was not shown by us for this fair, within the last hour.
    """
    try:
        said = signing.loads(shown, salt=SALT, max_age=AN_HOUR)
    except signing.BadSignature:
        return None
    if said["fair"] != fair.pk:
        return None
    pieces = {int(pk): count for pk, count in said["pieces"].items()}
    found, _ = earners(Sold.FAIR)
    lines = [
        Line(design=each.design, species=each.species, quantity=pieces[each.design.pk], price=each.design.price)
        for each in found
        if pieces.get(each.design.pk) and each.species
    ]
    if not lines:
        return None
    order = Order(
        channel=Order.Channel.STOCK,
        fair=fair,
        placed_at=at,
        due_at=fair.opens_at,
        note=f"what pays best for {fair}",
        form_key=uuid.UUID(said["key"]),
    )
    return take_order(Draft(order, lines))


def _product(candidate: Candidate, off: Decimal) -> MixProduct:
    """What is on its way already sells first, so the values begin after it."""
    price, cost, salvage = _money(candidate.earner, off)
    most = candidate.there + MOST_OF_A_DESIGN
    values = marginal_values(candidate.demand, price=price, cost=cost, salvage=salvage, most=most)[candidate.there :]
    minutes = {name: float(each) for name, each in candidate.earner.minutes.items()}
    return MixProduct(_id(candidate), str(candidate.earner.design), values, minutes)


def _money(earner: Earner, off: Decimal) -> tuple[Decimal, Decimal, Decimal]:
    """What a piece brings in, what it uses up, and what one left over is worth: of what it used up, less what a second
    is sold off by. Counted at more, leftovers would seem to pay, and the mix would fill every hour with them."""
    used_up = earner.used_up_dollars
    income = max(earner.pay.income_dollars, used_up)
    return income, used_up, used_up * (1 - off)


def _not_planned_yet(found: Sequence[Earner], plan: Plan) -> dict[str, float]:
    """Minutes of orders taken since the plan was begun: it doesn't know them, and they take hours from a mix."""
    lines = Line.objects.filter(order__in=Order.objects.open(), order__placed_at__gt=plan.read_at)
    pieces = {line["design"]: line["n"] for line in lines.values("design").annotate(n=Sum("quantity"))}
    minutes: dict[str, float] = defaultdict(float)
    for earner in found:
        for name, each in earner.minutes.items():
            minutes[name] += pieces.get(earner.design.pk, 0) * float(each)
    return minutes


def _id(candidate: Candidate) -> str:
    return str(candidate.earner.design.pk)


def _sales() -> dict[int, Sequence[Sale]]:
    by_design: dict[int, list[Sale]] = {}
    for row in FairSale.objects.all():
        by_design.setdefault(row.design_id, []).append(Sale(row.brought, row.sold))
    return by_design


def _on_the_way(fair: Fair) -> dict[int, int]:
    """Pieces ordered for this fair's table, by design."""
    lines = Line.objects.filter(order__fair=fair, order__cancelled_at=None).values("design").annotate(n=Sum("quantity"))
    return {line["design"]: line["n"] for line in lines}
