"""What the demo workshop owns: woods, bits, glues, boards and a few panels that are ready for the router."""

from __future__ import annotations

from decimal import Decimal

from planner import parse_length_nm
from shop.stations.models import Station
from shop.stock.models import Bit, Blank, Board, Glue, Species

BOWL = "3/4 in bowl"
SMALL_BOWL = "1/2 in bowl"
FLAT = "1/2 in flat"
DOWN_CUT = "1/4 in down-cut"
ROUND_OVER = "1/4 in round-over"
V = "90° V"

# its end grain, and what a board foot costs
SPECIES = {
    "Walnut": (Species.Grain.WAVES, 13),
    "Cherry": (Species.Grain.STRAIGHT, 9),
    "Maple": (Species.Grain.PORES, 8),
    "White oak": (Species.Grain.RAYS, 10),
    "Ash": (Species.Grain.RINGS, 7),
    "Beech": (Species.Grain.FLECKS, 6),
}

# its shape, its diameter, how it is fed (turns, feed, plunge, in a minute), how deep at once, and what is its own
BITS = {
    BOWL: (Bit.Shape.BOWL, "3/4", (12_000, 220, 60), "1/4", {"corner_radius_nm": parse_length_nm("1/4"), "price": 42}),
    DOWN_CUT: (Bit.Shape.DOWN_CUT, "1/4", (18_000, 190, 50), "3/16", {"price": 24}),
    ROUND_OVER: (Bit.Shape.ROUND_OVER, "1/4", (16_000, 120, 40), "1/4", {"price": 35}),
    FLAT: (Bit.Shape.FLAT, "1/2", (14_000, 210, 50), "1/4", {"price": 28}),
    SMALL_BOWL: (
        Bit.Shape.BOWL,
        "1/2",
        (14_000, 210, 50),
        "1/4",
        {"corner_radius_nm": parse_length_nm("1/8"), "price": 34},
    ),
    V: (Bit.Shape.V, "1/2", (16_000, 110, 30), "1/8", {"angle_degrees": 90, "price": 26}),
}

# species, length, width, thickness as sawn, how many, moisture in per cent
BOARDS = (
    ("Walnut", "96", "7 1/2", "1", 9, "7.6"),
    ("Walnut", "72", "6", "1 1/4", 4, "7.9"),
    ("Cherry", "96", "8 1/4", "1", 7, "7.2"),
    ("Cherry", "84", "6 1/2", "1 1/4", 5, "7.4"),
    ("Maple", "120", "7", "1", 8, "6.9"),
    ("Maple", "96", "6", "1 1/4", 4, "7.1"),
    ("White oak", "96", "9", "1", 6, "8.3"),
    ("White oak", "72", "7", "1 1/4", 3, "8.8"),
    ("Ash", "120", "8", "1", 7, "7.0"),
    ("Beech", "96", "7 1/2", "1", 5, "8.0"),
    ("Beech", "84", "6", "1 1/4", 4, "9.4"),
)

# species, length, width, thickness, how many
BLANKS = (
    ("Walnut", "16 1/2", "10 1/2", "3/4", 3),
    ("Cherry", "16 1/2", "10 1/2", "3/4", 2),
    ("Maple", "12 1/2", "12 1/2", "3/4", 3),
    ("White oak", "14", "9", "1", 2),
)


def fill_the_racks() -> None:
    """Woods with their boards and blanks, bits and glues."""
    woods = {
        name: Species.objects.create(name=name, grain=grain, dollars_per_board_foot=price)
        for name, (grain, price) in SPECIES.items()
    }
    for name, *size, quantity, moisture in BOARDS:
        wet = Decimal(moisture)
        Board.objects.create(species=woods[name], **_size(*size), quantity=quantity, moisture_percent=wet)
    for name, *size, quantity in BLANKS:
        Blank.objects.create(species=woods[name], **_size(*size), quantity=quantity)
    Glue.objects.create(
        name="Yellow wood glue", open_minutes=10, clamp_minutes=60, cure_minutes=18 * 60, water_class=Glue.Water.D3
    )
    Glue.objects.create(name="Slow wood glue", open_minutes=25, clamp_minutes=90, cure_minutes=24 * 60, in_use=False)


def lay_out_the_bits(router: Station) -> None:
    """The bits, and the one that was left in the spindle."""
    for name, (shape, diameter, (rpm, feed, plunge), depth, own) in BITS.items():
        Bit.objects.create(
            name=name,
            shape=shape,
            diameter_nm=parse_length_nm(diameter),
            rpm=rpm,
            feed_in_per_minute=feed,
            plunge_in_per_minute=plunge,
            depth_per_pass_nm=parse_length_nm(depth),
            spindle=router if name == DOWN_CUT else None,
            **own,
        )


def _size(length: str, width: str, thickness: str) -> dict[str, int]:
    sides = {"length_nm": length, "width_nm": width, "thickness_nm": thickness}
    return {side: parse_length_nm(text) for side, text in sides.items()}
