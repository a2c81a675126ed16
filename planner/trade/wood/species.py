"""Woods: how much they shrink and move, how heavy and hard they are.

Shrinkage from green to oven-dry in per cent: Wood Handbook, FPL-GTR-190 (2010), table 4-3. Change in size per 1 % of
moisture, from 6 to 14 %: table 13-5. A commercial group of several species has a row in table 13-5 alone: its shrinkage
is the one that its change implies, so that both equations meet. Specific gravity and side hardness at 12 %: table 5-3.
`is_from_memory` says where a row was not seen in the handbook itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

MEDIUM_FROM_LBF, HARD_FROM_LBF = 700, 1100
"""Side hardness: basswood, poplar, alder and pine below, walnut and cherry between, maple, oak and ash above. Where
gluing guides and chip-load tables draw their lines they don't say: common practice, no source."""


class Hardness(Enum):
    """How hard a wood is, as gluing guides sort it; what they call soft takes a softwood's chips."""

    SOFT = "soft"
    MEDIUM = "medium"
    HARD = "hard"


@dataclass(frozen=True, slots=True)
class Wood:
    """One wood. Shrinkages in per cent; coefficients are shares of the size per 1 % of moisture."""

    name: str
    radial_shrinkage: float
    tangential_shrinkage: float
    radial: float
    tangential: float
    specific_gravity: float
    hardness_lbf: int
    saturation_percent: float = 30.0
    is_from_memory: bool = False
    is_a_group: bool = False
    is_a_guess: bool = False

    @property
    def hardness(self) -> Hardness:
        if self.hardness_lbf < MEDIUM_FROM_LBF:
            return Hardness.SOFT
        return Hardness.MEDIUM if self.hardness_lbf < HARD_FROM_LBF else Hardness.HARD


# fmt: off
_ROWS = (
    #    name                 SR   ST    CR       CT       SG    lbf
    Wood("black walnut",      5.5, 7.8,  0.00190, 0.00274, 0.55, 1010),
    Wood("black cherry",      3.7, 7.1,  0.00126, 0.00248, 0.50, 950),
    Wood("sugar maple",       4.8, 9.9,  0.00165, 0.00353, 0.63, 1450),
    Wood("red maple",         4.0, 8.2,  0.00137, 0.00289, 0.54, 950),
    Wood("white oak",         5.2, 10.2, 0.00180, 0.00365, 0.68, 1360, is_a_group=True),
    Wood("red oak",           4.6, 10.3, 0.00158, 0.00369, 0.63, 1290, is_a_group=True),
    Wood("yellow birch",      7.3, 9.5,  0.00256, 0.00338, 0.62, 1260),
    Wood("white ash",         4.9, 7.8,  0.00169, 0.00274, 0.60, 1320),
    Wood("basswood",          6.6, 9.3,  0.00230, 0.00330, 0.37, 410),
    Wood("American beech",    5.5, 11.9, 0.00190, 0.00431, 0.64, 1300),
    Wood("yellow-poplar",     4.6, 8.2,  0.00158, 0.00289, 0.42, 540,  is_from_memory=True),
    Wood("pecan hickory",     4.9, 8.9,  0.00169, 0.00315, 0.66, 1820),
    Wood("true hickory",      7.4, 11.4, 0.00259, 0.00411, 0.72, 1820, is_a_group=True, is_from_memory=True),
    Wood("red alder",         4.4, 7.3,  0.00151, 0.00256, 0.41, 590),
    Wood("butternut",         3.4, 6.4,  0.00116, 0.00223, 0.38, 490),
    Wood("white pine",        2.1, 6.1,  0.00071, 0.00212, 0.35, 380,  is_from_memory=True),
    Wood("western redcedar",  2.4, 5.0,  0.00111, 0.00234, 0.32, 350,  22.0, is_from_memory=True),
    Wood("mahogany",          3.7, 5.1,  0.00172, 0.00238, 0.45, 800,  22.0, is_from_memory=True),
    Wood("teak",              2.2, 4.0,  0.00101, 0.00186, 0.55, 1000, 22.0, is_from_memory=True),
)
# fmt: on
WOODS = {wood.name: wood for wood in _ROWS}

MIDDLING = Wood("a middling hardwood", 4.6, 8.6, 0.00160, 0.00300, 0.58, 1100, is_from_memory=True, is_a_guess=True)
"""Between cherry and oak, for a wood that no table here knows."""

_ALSO = {
    "walnut": "black walnut",
    "cherry": "black cherry",
    "maple": "sugar maple",
    "hard maple": "sugar maple",
    "soft maple": "red maple",
    "oak": "red oak",
    "birch": "yellow birch",
    "ash": "white ash",
    "linden": "basswood",
    "beech": "American beech",
    "poplar": "yellow-poplar",
    "hickory": "true hickory",
    "pecan": "pecan hickory",
    "alder": "red alder",
    "pine": "white pine",
    "cedar": "western redcedar",
}


def wood_named(name: str) -> Wood:
    """The wood of that name, as people say it; a middling hardwood, which says that it is a guess, for any other.

    >>> wood_named("Walnut").tangential
    0.00274
    """
    said = " ".join(name.lower().replace("-", " ").split())
    known = {key.lower().replace("-", " "): wood for key, wood in WOODS.items()}
    return known.get(_ALSO.get(said, said).lower().replace("-", " "), MIDDLING)
