"""What one piece of a batch costs, line by line: wood, machines, hands, wear, what is used up, packing.

Fees depend on the price and are reckoned where a price is (`paying`). Money is in dollars and whole decimals.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal

from planner.errors import PlannerError

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class Hands:
    """Minutes of one person's hands on a piece, and what an hour of them costs in dollars."""

    who: str
    minutes: Decimal
    dollars_an_hour: Decimal


@dataclass(frozen=True, slots=True)
class BitWear:
    """Minutes a bit cuts in a piece; a new one costs so much and cuts well for so many minutes."""

    bit: str
    cutting_minutes: Decimal
    bit_dollars: Decimal
    life_minutes: Decimal


@dataclass(frozen=True, slots=True)
class PriceFacts:
    """All that a piece takes. Fractions are from 0 to 1; everything else is 0 or more.

    `hands` are minutes on each piece; `set_up_minutes` are hands for a whole batch (bits, bed, mixing paint) at
    `set_up_dollars_an_hour`; `artwork_minutes` are drawn once for an order, whatever its size, at the same rate. Of all
    pieces `seconds_fraction` turn out seconds and are sold `seconds_off_fraction` cheaper.
    """

    wood_board_feet: Decimal = ZERO
    waste_fraction: Decimal = ZERO
    wood_dollars_a_board_foot: Decimal = ZERO
    router_minutes: Decimal = ZERO
    router_dollars_a_minute: Decimal = ZERO
    laser_minutes: Decimal = ZERO
    laser_dollars_a_minute: Decimal = ZERO
    hands: tuple[Hands, ...] = ()
    set_up_minutes: Decimal = ZERO
    set_up_dollars_an_hour: Decimal = ZERO
    artwork_minutes: Decimal = ZERO
    bits: tuple[BitWear, ...] = ()
    consumables_dollars: Decimal = ZERO
    finish_dollars: Decimal = ZERO
    packing_dollars: Decimal = ZERO
    fair_dollars_a_piece: Decimal = ZERO
    fee_fraction: Decimal = ZERO
    fee_dollars: Decimal = ZERO
    seconds_fraction: Decimal = ZERO
    seconds_off_fraction: Decimal = ZERO

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, Decimal):
                _check(field.name, value)
                if field.name.endswith("_fraction") and value > 1:
                    raise PlannerError(f"{_said(field.name)} is a share from 0 to 1, not {value}.")
        if self.fee_fraction == 1:
            raise PlannerError("A channel that keeps the whole price leaves nothing; its fee is less than 1.")
        for hands in self.hands:
            _check(f"minutes of {hands.who}", hands.minutes)
            _check(f"dollars an hour of {hands.who}", hands.dollars_an_hour)
        for wear in self.bits:
            _check(f"cutting minutes of {wear.bit}", wear.cutting_minutes)
            _check(f"price of {wear.bit}", wear.bit_dollars)
            if not (wear.life_minutes.is_finite() and wear.life_minutes > 0):
                raise PlannerError(f"{wear.bit} cuts well for more than 0 minutes; say for how many.")

    @property
    def sold_share(self) -> Decimal:
        """What a piece brings in on average of its full price: less than 1 where some are seconds."""
        return 1 - self.seconds_fraction * self.seconds_off_fraction


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of a cost sheet, for one piece; `minutes` where time is paid, else None."""

    name: str
    dollars: Decimal
    minutes: Decimal | None = None
    is_hands: bool = False


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What one piece of a batch of that size costs before fees."""

    batch_size: int
    lines: tuple[CostLine, ...]

    @property
    def dollars(self) -> Decimal:
        return sum((line.dollars for line in self.lines), ZERO)

    @property
    def hands_minutes(self) -> Decimal:
        return sum((line.minutes or ZERO for line in self.lines if line.is_hands), ZERO)

    @property
    def hands_dollars(self) -> Decimal:
        return sum((line.dollars for line in self.lines if line.is_hands), ZERO)

    @property
    def other_dollars(self) -> Decimal:
        """All that is not paid to hands."""
        return self.dollars - self.hands_dollars


def cost_of(facts: PriceFacts, batch_size: int = 1) -> CostSheet:
    """The cost sheet of one piece, set-up and artwork shared by the batch. Raises PlannerError for an empty batch.

    >>> cost_of(PriceFacts(router_minutes=Decimal(15), router_dollars_a_minute=Decimal(1))).dollars
    Decimal('15')
    """
    if not batch_size >= 1:
        raise PlannerError(f"A batch has 1 piece or more, not {batch_size}.")
    lines = [
        CostLine("wood", facts.wood_board_feet * (1 + facts.waste_fraction) * facts.wood_dollars_a_board_foot),
        CostLine("router", facts.router_minutes * facts.router_dollars_a_minute, facts.router_minutes),
        CostLine("laser", facts.laser_minutes * facts.laser_dollars_a_minute, facts.laser_minutes),
        *(
            CostLine(f"hands, {hands.who}", hands.minutes * hands.dollars_an_hour / 60, hands.minutes, is_hands=True)
            for hands in facts.hands
        ),
        _shared("setting up, shared by the batch", facts.set_up_minutes, facts, batch_size),
        _shared("artwork, for this order alone", facts.artwork_minutes, facts, batch_size),
        CostLine("wear of bits", sum((w.cutting_minutes * w.bit_dollars / w.life_minutes for w in facts.bits), ZERO)),
        CostLine("sandpaper, tape, glue", facts.consumables_dollars),
        CostLine("finish", facts.finish_dollars),
        CostLine("packing", facts.packing_dollars),
        CostLine("its share of the fair's table", facts.fair_dollars_a_piece),
    ]
    return CostSheet(batch_size, tuple(line for line in lines if line.dollars or line.minutes))


def _shared(name: str, minutes: Decimal, facts: PriceFacts, batch_size: int) -> CostLine:
    each = minutes / batch_size
    return CostLine(name, each * facts.set_up_dollars_an_hour / 60, each, is_hands=True)


def _check(name: str, value: Decimal) -> None:
    if not value.is_finite() or value < 0:
        raise PlannerError(f"{_said(name)} is 0 or more, not {value}.")


def _said(name: str) -> str:
    return name.replace("_", " ")
