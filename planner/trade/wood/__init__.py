"""Wood as it moves: moisture in the air and in the board, species, movement, flatness, rest."""

from planner.trade.wood.flatness import Flatness, FlatnessFacts, flatness
from planner.trade.wood.moisture import equilibrium_moisture_percent, equilibrium_moisture_percent_celsius
from planner.trade.wood.movement import Air, Movement, change_in, shop_to_home
from planner.trade.wood.resting import moisture_findings, rest_days
from planner.trade.wood.species import WOODS, Hardness, Wood, wood_named

__all__ = [
    "WOODS",
    "Air",
    "Flatness",
    "FlatnessFacts",
    "Hardness",
    "Movement",
    "Wood",
    "change_in",
    "equilibrium_moisture_percent",
    "equilibrium_moisture_percent_celsius",
    "flatness",
    "moisture_findings",
    "rest_days",
    "shop_to_home",
    "wood_named",
]
