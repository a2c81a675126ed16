"""What a piece costs, what it must bring in, what it really pays."""

from planner.trade.price.costs import BitWear, CostLine, CostSheet, Hands, PriceFacts, cost_of
from planner.trade.price.floor import price_floor
from planner.trade.price.machine import machine_dollars_an_hour
from planner.trade.price.paying import Pay, batch_curve, floor_price, price_for_wage, what_it_pays
from planner.trade.price.ranking import Ranked, Ranking, RankRow, StationLoad, rank_by_scarcest

__all__ = [
    "BitWear",
    "CostLine",
    "CostSheet",
    "Hands",
    "Pay",
    "PriceFacts",
    "RankRow",
    "Ranked",
    "Ranking",
    "StationLoad",
    "batch_curve",
    "cost_of",
    "floor_price",
    "machine_dollars_an_hour",
    "price_floor",
    "price_for_wage",
    "rank_by_scarcest",
    "what_it_pays",
]
