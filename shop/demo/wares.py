"""What the demo workshop makes: sixteen wares, so that every way through the shop is taken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner import parse_length_nm
from shop.demo import outlines
from shop.demo.stock import BOWL, DOWN_CUT, FLAT, ROUND_OVER, SMALL_BOWL
from shop.designs.models import Design, Pass

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
        "cover_m2_per_litre": 14,
        "dollars_per_litre": 22,
        "in_stock_ml": 900,
        "cure_days": 30,
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
        "cover_m2_per_litre": 24,
        "dollars_per_litre": 68,
        "in_stock_ml": 600,
        "least_celsius": 16,
        "cure_days": 7,
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
        "cover_m2_per_litre": 12,
        "dollars_per_litre": 30,
        "in_stock_ml": 700,
        "cure_days": 1,
    },
)


@dataclass(frozen=True)
class Cut:
    """One job of one bit: its minutes are worked out, or said by hand where no outline says them."""

    kind: str
    bit: str
    step_over: int | None = None
    depth: str | None = None
    minutes: float | None = None
    name: str = ""


POCKET = Cut(Pass.Kind.POCKET, BOWL, 40)
CLEAN_UP = Cut(Pass.Kind.CLEAN_UP, BOWL, 10)
ROUND_OVER_EDGE = Cut(Pass.Kind.ROUND_OVER, ROUND_OVER)
CUT_OUT = Cut(Pass.Kind.PROFILE, DOWN_CUT)
TEXTURE = Cut(Pass.Kind.TEXTURE, SMALL_BOWL, 60, depth="1/16")

TRAY = (POCKET, CLEAN_UP, ROUND_OVER_EDGE, CUT_OUT)
DISH = (POCKET, CLEAN_UP, CUT_OUT)
BOARD = (ROUND_OVER_EDGE, CUT_OUT)


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


def lasered(length: str, width: str) -> list[dict]:
    """An engraving of that size; how long it takes follows from it."""
    size = {"laser_length_nm": parse_length_nm(length), "laser_width_nm": parse_length_nm(width)}
    return [{"kind": "laser", "minutes": 1, "laser_lines_per_inch": 200, "note": "stay with it", **size}]


@dataclass(frozen=True)
class Ware:
    """A design as its maker would tell it: sizes in inches."""

    name: str
    length: str
    width: str
    passes: Sequence[Cut]
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
    guess: int | None = None
    artwork: bool = False


RECTANGLE, OVAL, HEXAGON, POLYGON, FREE = Design.Shape.values

WARES = (
    Ware("Harbor tray", "16", "10", TRAY, 62, corner="1 1/2", pocket="0.4", rim="3/4", sanding=9, guess=6),
    Ware("Hexagon tray", "12", "10 3/8", TRAY, 64, HEXAGON, pocket="0.4", rim="3/4", sanding=9, guess=5),
    Ware(
        "Tide tray",
        "20",
        "12",
        TRAY,
        98,
        corner="2",
        thickness="1",
        pocket="0.5",
        rim="1",
        sanding=10,
        details=painted("white", "deep blue"),
        text=True,
    ),
    Ware("Gull tray", "18", "10", TRAY, 76, FREE, outlines.gull, pocket="0.4", rim="3/4", sanding=10, guess=4),
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
        details=lasered("9", "6"),
        text=True,
        guess=2,
        artwork=True,
    ),
    Ware("Oval dish", "11", "7", DISH, 42, OVAL, thickness="1", pocket="0.6", rim="5/8", finish=BOARD_BALM, guess=6),
    Ware("Leaf dish", "13", "7", DISH, 46, FREE, outlines.leaf, thickness="1", pocket="0.5", rim="5/8", guess=4),
    Ware(
        "Salt dish",
        "5",
        "5",
        (Cut(Pass.Kind.POCKET, FLAT, 40), CUT_OUT),
        30,
        OVAL,
        thickness="1",
        pocket="0.6",
        rim="1/2",
        glued=False,
        sanding=5,
        finish=BOARD_BALM,
        guess=12,
    ),
    Ware("Round bread board", "12", "12", (TEXTURE, *BOARD), 52, OVAL, sanding=8, finish=BOARD_BALM, guess=5),
    Ware(
        "Heart board",
        "11",
        "11",
        BOARD,
        58,
        FREE,
        outlines.heart,
        finish=BOARD_BALM,
        details=lasered("5", "3"),
        text=True,
        guess=4,
    ),
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
        guess=3,
    ),
    Ware("Serving plank", "22", "7", BOARD, 48, corner="1", glued=False, finish=HARD_WAX, guess=7),
    Ware(
        "House sign",
        "20",
        "7",
        BOARD,
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
        (TEXTURE, CUT_OUT),
        30,
        POLYGON,
        corner="1/2",
        glued=False,
        sanding=5,
        finish=None,
        guess=11,
    ),
    Ware(
        "Knife rest block",
        "10",
        "4",
        (Cut(Pass.Kind.OTHER, FLAT, minutes=5, name="slots"), CUT_OUT),
        36,
        corner="1/2",
        thickness="1",
        glued=False,
        sanding=6,
        finish=OIL,
    ),
)
