"""The move that ruins and recreates, some thousand times at once, from the best plan on."""

from __future__ import annotations

from planner.plan import Plan
from planner.search.best import WORTH_KEEPING
from planner.search.fast.annealing import anneal, keep
from planner.search.fast.clustering import clear_out, stand_at
from planner.search.fast.costing import price_everything
from planner.search.fast.move import ShopMove
from planner.search.listing import ListRule
from planner.search.stop import Stop

COOL = 1e-3  # of the warmth at first is left at last
WELL_KNOWN = 400  # steps: a plan of so many is gone through so often in ten seconds that it may begin hot
ALONE = 0.5  # of the search in which each worker goes on from its own plan
MOST_OUT = 60.0  # clusters taken out at a time


class RuinAndRecreate(ShopMove):
    """Anneals one plan of one problem; where somebody else finds a better one, it goes on from there."""

    first_tries, repeatable_tries = 20, 2_000

    def __init__(self, rule: ListRule, seed: int, heat: float = 1.0) -> None:
        super().__init__(rule, seed)
        self.heat, self.told = heat, 0.0

    def begin(self, plan: Plan) -> None:
        stand_at(self.shop, self.numbers.rows_of(plan))
        self.shop.all[0]["cost"] = price_everything(self.shop)
        keep(self.shop)
        self.told = plan.cost

    def go_on(self, plan: Plan, stop: Stop) -> None:
        if plan.cost < self.told - WORTH_KEEPING and stop.share_gone() > ALONE:
            clear_out(self.shop)
            self.begin(plan)

    def work(self, tries: int, stop: Stop) -> None:
        anneal(self.shop, tries, self._warmth(stop), MOST_OUT)

    def _warmth(self, stop: Stop) -> float:
        """By how much worse a plan may well be: at first as much as an order costs, less where there is little time."""
        parts = self.shop.order.size or self.shop.step.size
        hot = self.heat * min(1.0, (WELL_KNOWN / self.shop.step.size) ** 2 * stop.seconds_in_all / 10)
        return float(hot * COOL ** stop.share_gone() * abs(self.shop.all[0]["best"]) / parts) + WORTH_KEEPING

    def found(self) -> Plan:
        found = super().found()
        self.told = found.cost
        return found
