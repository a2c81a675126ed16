"""Makers of rows: each fills in what a test doesn't care about."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from decimal import Decimal
from itertools import count
from typing import Any

from shop.designs.minutes import reckon
from shop.designs.models import Design, Detail, Finish, Pass
from shop.floor.models import Batch, Piece, Step, Tick
from shop.orders.models import Customer, Fair, Line, Order
from shop.plans.models import Plan, PlannedStep, Rest
from shop.stations.models import Hours, Person, Skill, Station, Workshop
from shop.stock.models import Bit, Board, Glue, Species

INCH = 25_400_000
MONDAY = datetime(2026, 6, 1, 14, tzinfo=UTC)  # 9:00 in Chicago
numbers = count(1)


def make_person(name: str = "", *, role: str = Person.Role.OWNER, works: bool = True) -> Person:
    """Somebody with every skill, at work from 7:00 to 19:00 on every day, so that nothing waits for hours."""
    person = Person.objects.create(name=name or f"Person {next(numbers)}", role=role)
    if works:
        Skill.objects.bulk_create([Skill(person=person, kind=kind) for kind in Skill.Kind])
        Hours.objects.bulk_create([Hours(person=person, weekday=d, opens=time(7), closes=time(19)) for d in range(7)])
    return person


def make_it_midday() -> Workshop:
    """Puts the workshop where it is about noon now, so that no test of "today" runs over a midnight."""
    workshop, hours = Workshop.get(), 12 - datetime.now(UTC).hour
    workshop.time_zone = f"Etc/GMT{-hours:+d}"  # in these names plus is west of Greenwich: the tz database's own note
    workshop.save()
    return workshop


def make_station(role: str = Station.Role.ROUTER, **fields: Any) -> Station:
    if role == Station.Role.ROUTER:
        fields = {"bed_length_nm": 48 * INCH, "bed_width_nm": 24 * INCH} | fields
    return Station.objects.create(role=role, **{"name": f"{role} {next(numbers)}"} | fields)


def make_workplaces() -> None:
    """One of every station that a piece can need, and glue."""
    room = {Station.Role.CLAMPS: 12, Station.Role.RACK: 20}
    for role in Station.Role.values:
        make_station(role, capacity=room.get(role, 1))
    Glue.objects.create(name="yellow glue")


def make_bit(name: str = "", shape: str = Bit.Shape.BOWL, diameter_nm: int = INCH * 3 // 4) -> Bit:
    return Bit.objects.create(name=name or f"bit {next(numbers)}", shape=shape, diameter_nm=diameter_nm)


def make_design(name: str = "", *, passes: int = 1, details: tuple[str, ...] = (), **fields: Any) -> Design:
    """A 12 by 8 tray, 3/4 thick, from one board, with so many passes and these details."""
    own = {"length_nm": 12 * INCH, "width_nm": 8 * INCH, "price": 60, "is_glued": False}
    design = Design.objects.create(name=name or f"Design {next(numbers)}", **own | fields)
    for position in range(passes):
        Pass.objects.create(design=design, position=position, name=f"pass {position}", bit=make_bit(), minutes=4)
    for position, kind in enumerate(details):
        bit = make_bit(shape=Bit.Shape.V) if kind == Detail.Kind.CARVE else None
        Detail.objects.create(design=design, position=position, kind=kind, minutes=5, bit=bit)
    return design


def make_finish(**fields: Any) -> Finish:
    return Finish.objects.create(**{"name": f"oil {next(numbers)}"} | fields)


def make_order(*, due_at: datetime = MONDAY + timedelta(days=14), **fields: Any) -> Order:
    own = {
        "reference": f"R-{next(numbers)}",
        "channel": Order.Channel.ONLINE,
        "placed_at": MONDAY - timedelta(days=1),
        "due_at": due_at,
    }
    return Order.objects.create(**own | fields)


def make_customer(name: str = "") -> Customer:
    return Customer.objects.create(name=name or f"Customer {next(numbers)}")


def make_fair(name: str = "", opens_at: datetime = MONDAY + timedelta(days=12)) -> Fair:
    return Fair.objects.create(
        name=name or f"Fair {next(numbers)}", opens_at=opens_at, closes_at=opens_at + timedelta(hours=8)
    )


def make_species(name: str = "") -> Species:
    return Species.objects.create(name=name or f"wood {next(numbers)}")


def make_line(*, design: Design | None = None, order: Order | None = None, quantity: int = 1, **fields: Any) -> Line:
    own = {"species": fields.pop("species", None) or make_species(), "price": 60}
    return Line.objects.create(
        order=order or make_order(), design=design or make_design(), quantity=quantity, **own | fields
    )


def make_piece(line: Line | None = None, number: int = 1) -> Piece:
    return Piece.objects.create(line=line or make_line(), number=number)


def make_step(
    *pieces: Piece, stage: str = "sand", segments: tuple[tuple[int, str], ...] = ((20, "hands"),), **fields: Any
) -> Step:
    """A step of these pieces, in a batch of its own."""
    key = f"{stage}-{next(numbers)}"
    own = {"key": key, "stage": stage, "kind": stage, "what": stage, "skill": "sanding", "about": {}}
    own["batch"] = fields.pop("batch", None) or Batch.objects.create(key=f"bench-{key}", kind=Batch.Kind.BENCH)
    step = Step.objects.create(segments=[list(segment) for segment in segments], **own | fields)
    step.pieces.set(pieces)
    return step


def packed(piece: Piece) -> Piece:
    """The piece with its last step ticked."""
    Tick.objects.create(step=make_step(piece, stage="pack", begun_at=MONDAY), at=MONDAY, minutes=5)
    return piece


def make_plan(**fields: Any) -> Plan:
    """An empty plan in force."""
    own = {"is_in_force": True, "problem": {}, "document": {}, "cost": 0, "read_at": MONDAY}
    return Plan.objects.create(**own | fields)


def make_planned(
    plan: Plan, step: Step, starts_at: datetime | None = MONDAY, *at: Station, **fields: Any
) -> PlannedStep:
    """The step in its place in the plan, as long as it takes, at these stations."""
    ends_at = starts_at and starts_at + timedelta(minutes=step.minutes)
    planned = PlannedStep.objects.create(plan=plan, step=step, starts_at=starts_at, ends_at=ends_at, **fields)
    planned.stations.set(at)
    return planned


def make_rest(plan: Plan, before: Step, after: Step, least: int, most: int | None = None) -> Rest:
    return Rest.objects.create(plan=plan, before=before, after=after, least_minutes=least, most_minutes=most)


def make_tray(**fields) -> Design:
    """A tray whose passes are worked out."""
    own = {"pocket_depth_nm": INCH * 2 // 5, "rim_nm": INCH * 3 // 4, "corner_radius_nm": INCH}
    design = make_design(passes=0, **own | fields)
    bowl = make_bit(shape=Bit.Shape.BOWL)
    cutter = make_bit(shape=Bit.Shape.DOWN_CUT, diameter_nm=INCH // 4)
    for position, (kind, bit, step_over) in enumerate(
        [("pocket", bowl, 40), ("clean-up", bowl, 10), ("profile", cutter, None)], start=1
    ):
        Pass.objects.create(
            design=design,
            position=position,
            kind=kind,
            name=kind,
            bit=bit,
            step_over_percent=step_over,
            by_hand=False,
            minutes=1,
        )
    reckon(design)
    return design


def minutes_of(design: Design) -> list[Decimal]:
    return [row.minutes for row in design.passes.all()]


def make_board(species, **fields) -> Board:
    own = {"length_nm": 96 * INCH, "width_nm": 8 * INCH, "thickness_nm": INCH, "quantity": 4}
    return Board.objects.create(species=species, **own | fields)
