"""What the demo workshop makes: sixteen wares, so that every way through the shop is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shop.demo import outlines
from shop.demo.stock import BOWL, DOWN_CUT, FLAT, ROUND_OVER, SMALL_BOWL
from shop.designs.models import Design

OIL, HARD_WAX, BOARD_BALM = "Linseed oil", "Hard wax oil", "Mineral oil and beeswax"

FINISHES = (
    {
        "name": OIL,
        "apply_minutes": 3,
        "soak_least_minutes": 12 * 60,
        "soak_most_minutes": 16 * 60,
        "wipe_minutes": 2,
        "dry_minutes": 4 * 60,
        "rags_self_heat": True,
        "before_food": "only fully cured, about 30 days or as long as the tin says",
    },
    {
        "name": HARD_WAX,
        "apply_minutes": 4,
        "soak_least_minutes": 15,
        "soak_most_minutes": 45,
        "wipe_minutes": 3,
        "dry_minutes": 16 * 60,
        "rags_self_heat": True,
        "before_food": "only fully cured, as long as the tin says",
    },
    {
        "name": BOARD_BALM,
        "apply_minutes": 3,
        "soak_least_minutes": 4 * 60,
        "soak_most_minutes": 24 * 60,
        "wipe_minutes": 2,
        "dry_minutes": 30,
        "rags_self_heat": False,
        "before_food": "made for boards; as the jar says",
    },
)

TRAY = (("pocket", BOWL, 6), ("clean-up", BOWL, 2.5), ("round-over", ROUND_OVER, 1.5), ("cut out", DOWN_CUT, 3))
DISH = (("pocket", BOWL, 5), ("clean-up", BOWL, 2), ("cut out", DOWN_CUT, 3))
BOARD = (("round-over", ROUND_OVER, 2), ("cut out", DOWN_CUT, 4.5))


def painted(*colours: str) -> list[dict]:
    """V-carved lettering, a coat of each colour: what is done, and how long it rests after it."""
    between = {"rest_least_minutes": 2 * 60, "rest_most_minutes": 24 * 60}
    before_hard = {"rest_least_minutes": 20, "rest_most_minutes": 2 * 60, "note": "peel before it is hard"}
    *first, last = colours
    return [
        {"kind": "mask", "minutes": 5, "note": "press the edges down well"},
        {"kind": "carve", "minutes": 7},
        {"kind": "brush", "minutes": 2},
        {"kind": "seal", "minutes": 3, "rest_least_minutes": 60, "note": "thin, so that paint doesn't creep"},
        *[{"kind": "paint", "minutes": 5, "colour": colour, **between} for colour in first],
        {"kind": "paint", "minutes": 5, "colour": last, **before_hard},
        {"kind": "peel", "minutes": 4, "rest_least_minutes": 12 * 60},
    ]


def lasered(minutes: int) -> list[dict]:
    return [{"kind": "laser", "minutes": minutes, "note": "stay with it"}]


@dataclass(frozen=True)
class Ware:
    """A design as its maker would tell it: sizes in inches."""

    name: str
    length: str
    width: str
    passes: Sequence[tuple[str, str, float]]
    price: int
    shape: str = Design.Shape.RECTANGLE
    outline: Callable[[], outlines.Points] = list
    corner: str = "0"
    thickness: str = "3/4"
    pocket: str | None = None
    rim: str | None = None
    glued: bool = True
    sanding: int = 7
    finish: str | None = OIL
    details: Sequence[dict] = ()
    text: bool = False


RECTANGLE, OVAL, HEXAGON, FREE = Design.Shape.values

WARES = (
    Ware("Harbor tray", "16", "10", TRAY, 62, corner="1 1/2", pocket="0.4", rim="3/4", sanding=9),
    Ware("Hexagon tray", "12", "10 3/8", TRAY, 64, HEXAGON, pocket="0.4", rim="3/4", sanding=9),
    Ware(
        "Tide tray",
        "20",
        "12",
        (("pocket", BOWL, 8), ("clean-up", BOWL, 3), ("round-over", ROUND_OVER, 2), ("cut out", DOWN_CUT, 4)),
        98,
        corner="2",
        thickness="1",
        pocket="0.5",
        rim="1",
        sanding=10,
        details=painted("white", "deep blue"),
        text=True,
    ),
    Ware("Gull tray", "18", "10", TRAY, 76, FREE, outlines.gull, pocket="0.4", rim="3/4", sanding=10),
    Ware(
        "Picture tray",
        "14",
        "9",
        TRAY,
        92,
        corner="1",
        pocket="0.4",
        rim="3/4",
        sanding=9,
        finish=HARD_WAX,
        details=lasered(30),
        text=True,
    ),
    Ware("Oval dish", "11", "7", DISH, 42, OVAL, thickness="1", pocket="0.6", rim="5/8", finish=BOARD_BALM),
    Ware("Leaf dish", "13", "7", DISH, 46, FREE, outlines.leaf, thickness="1", pocket="0.5", rim="5/8"),
    Ware(
        "Salt dish",
        "5",
        "5",
        (("pocket", FLAT, 3), ("cut out", DOWN_CUT, 2)),
        30,
        OVAL,
        thickness="1",
        pocket="0.6",
        rim="1/2",
        glued=False,
        sanding=5,
        finish=BOARD_BALM,
    ),
    Ware(
        "Round bread board",
        "12",
        "12",
        (("texture", SMALL_BOWL, 5), *BOARD),
        52,
        OVAL,
        sanding=8,
        finish=BOARD_BALM,
    ),
    Ware("Heart board", "11", "11", BOARD, 58, FREE, outlines.heart, finish=BOARD_BALM, details=lasered(12), text=True),
    Ware(
        "Fish board",
        "17",
        "7 1/2",
        BOARD,
        68,
        FREE,
        outlines.fish,
        glued=False,
        finish=OIL,
        details=painted("deep blue"),
        text=True,
    ),
    Ware("Serving plank", "22", "7", BOARD, 48, corner="1", glued=False, finish=HARD_WAX),
    Ware(
        "House sign",
        "20",
        "7",
        (("round-over", ROUND_OVER, 2), ("cut out", DOWN_CUT, 5)),
        84,
        corner="3/4",
        glued=False,
        finish=HARD_WAX,
        details=painted("white", "white"),
        text=True,
    ),
    Ware(
        "Engraved plank",
        "18",
        "6",
        BOARD,
        62,
        corner="1/2",
        glued=False,
        finish=BOARD_BALM,
        details=[{"kind": "carve", "minutes": 6}, {"kind": "brush", "minutes": 2}],
        text=True,
    ),
    Ware(
        "Hexagon trivet",
        "7",
        "6 1/16",
        (("texture", SMALL_BOWL, 4), ("cut out", DOWN_CUT, 2.5)),
        30,
        HEXAGON,
        glued=False,
        sanding=5,
        finish=None,
    ),
    Ware(
        "Knife rest block",
        "10",
        "4",
        (("slots", FLAT, 5), ("cut out", DOWN_CUT, 3)),
        36,
        corner="1/2",
        thickness="1",
        glued=False,
        sanding=6,
        finish=OIL,
    ),
)
