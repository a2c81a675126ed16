"""The only crossing between the site's rows and the planner's values."""

from shop.plans.handoff.carrying import plan_so_far
from shop.plans.handoff.reading import Shop, read_shop
from shop.plans.handoff.writing import write_plan

__all__ = ["Shop", "plan_so_far", "read_shop", "write_plan"]
