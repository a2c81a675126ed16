"""Small workshops, designs and orders, with only what a test is about said out loud."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, time
from typing import Any

from hypothesis import strategies as st

from planner import (
    Bed,
    Begun,
    CommonMinutes,
    Design,
    Detail,
    Finish,
    Floor,
    Glue,
    OrderFacts,
    Pass,
    Person,
    Piece,
    Placed,
    Prices,
    Problem,
    StandingStep,
    Station,
    Step,
    Work,
    open_intervals,
    outline_of,
    problem_of,
)

ORIGIN = datetime(2026, 6, 1, tzinfo=UTC)  # a Monday
HOUR, DAY = 60, 24 * 60
NOW = 8 * HOUR
SKILLS = frozenset({"wood", "router", "sanding", "detail", "laser", "finish", "packing"})
MINUTES = CommonMinutes(
    rip=6,
    glue=7,
    unclamp=2,
    flatten=4,
    cut_blank=4,
    load=5,
    load_per_piece=2,
    unload_per_piece=1,
    bit_change=4,
    pack=3,
    pack_per_piece=2,
)
PRICES = Prices(missed_hard=500, late_hour=1, missed_window_hour=20, changeover_minute=0.2, finish_hour=0.02)
OIL = Finish("oil", apply_minutes=3, soak_least_minutes=720, soak_most_minutes=960, wipe_minutes=2, dry_minutes=240)
TRAY = (Pass("pocket", "bowl", 6), Pass("clean-up", "bowl", 2.5), Pass("cut out", "down-cut", 3))
PAINTED = (
    Detail("mask", 5),
    Detail("carve", 7, bit="V"),
    Detail("brush", 2),
    Detail("seal", 3, rest_least_minutes=60),
    Detail("paint", 5, colour="white", rest_least_minutes=120, rest_most_minutes=1440),
    Detail("paint", 5, colour="blue", rest_least_minutes=20, rest_most_minutes=120),
    Detail("peel", 4, rest_least_minutes=720),
)
ROLES = {
    "saw": 1, "clamps": 16, "planer": 1, "router": 1, "sanding": 2, "laser": 1, "paint": 8, "rack": 24,
}  # fmt: skip


def make_person(name: str = "Ann", skills: Iterable[str] = SKILLS, **hours: Any) -> Person:
    """Somebody who works from 8 to 12 and from 13 to 19 on every day of eight weeks."""
    stretches = hours.get("stretches", ((time(8), time(12)), (time(13), time(19))))
    weekly = [(day, *stretch) for day in range(7) for stretch in stretches]
    return Person(name, frozenset(skills), open_intervals(weekly, (), ORIGIN.tzinfo, ORIGIN, ORIGIN.date(), 56))


def make_floor(*, without: Sequence[str] = (), sizes: dict[str, int] | None = None, **fields: Any) -> Floor:
    """A workshop with a station named after each of its roles."""
    capacities = {role: size for role, size in (ROLES | (sizes or {})).items() if role not in without}
    floor = Floor(
        people=(make_person(),),
        stations=tuple(
            Station(f"the {role}", size, changeover_default=MINUTES.bit_change if role == "router" else 0)
            for role, size in capacities.items()
        ),
        roles={role: (f"the {role}",) for role in capacities},
        bed=Bed(48, 24, 0.75),
        minutes=MINUTES,
        glue=Glue(clamp_minutes=60, cure_minutes=18 * HOUR),
    )
    return replace(floor, **fields)


def make_design(name: str = "Gull tray", **fields: Any) -> Design:
    """A glued, sanded and oiled tray without details."""
    length_in, width_in = fields.pop("size", (16, 10))
    wanted = {
        "id": name,
        "name": name,
        "length_in": length_in,
        "width_in": width_in,
        "thickness_in": 0.75,
        "outline": outline_of("rectangle", length_in, width_in, 0, ()),
        "passes": TRAY,
        "sanding_minutes": 9,
        "finish": OIL,
    }
    return Design(**wanted | fields)


class Book:
    """An order book: every order has one or more lines, pieces are named p1, p2, ..."""

    def __init__(self) -> None:
        self.orders: list[OrderFacts] = []
        self.pieces: list[Piece] = []

    def order(
        self, *lines: tuple[Design, int] | Design, due_days: float = 10, species: str = "walnut", **facts: Any
    ) -> list[Piece]:
        """Take an order; returns its pieces."""
        order = OrderFacts(f"o{len(self.orders) + 1}", 0, round(due_days * DAY), 1.0, False)
        self.orders.append(replace(order, **facts))
        taken = len(self.pieces)
        for number, line in enumerate(lines):
            design, quantity = line if isinstance(line, tuple) else (line, 1)
            for _ in range(quantity):
                name = f"p{len(self.pieces) + 1}"
                self.pieces.append(Piece(name, order.id, f"{order.id}-l{number}", design, species))
        return self.pieces[taken:]

    def work(self, floor: Floor | None = None) -> Work:
        return Work(floor or make_floor(), tuple(self.pieces), tuple(self.orders), (), PRICES)


BALM = Finish("balm", 3, 15, 45, 3, 720)
WARES = (
    make_design(),
    make_design("Heron board", is_glued=False, size=(17, 8), passes=(Pass("cut out", "down-cut", 4.5),)),
    make_design("House sign", is_glued=False, size=(20, 7), details=PAINTED, finish=BALM),
    make_design("Picture tray", size=(14, 9), details=(Detail("laser", 30),), finish=BALM),
    make_design("Salt dish", size=(5, 5), thickness_in=1, is_glued=False, finish=None),
    make_design("Tide tray", size=(20, 12), passes=(TRAY[0], Pass("round-over", "round", 2), TRAY[2]), details=PAINTED),
)
"""Designs that between them take every way through the workshop."""

lines = st.lists(st.tuples(st.sampled_from(WARES), st.integers(1, 4)), min_size=1, max_size=3)


@st.composite
def books(draw: st.DrawFn) -> Book:
    """Order books of any urgency."""
    book = Book()
    for wanted in draw(st.lists(lines, min_size=1, max_size=6)):
        book.order(*wanted, due_days=draw(st.integers(1, 25)), hard=draw(st.booleans()))
    return book


def make_problem(book: Book, floor: Floor | None = None, now: int = NOW) -> Problem:
    return problem_of(book.work(floor), origin=ORIGIN, now=now)


def later(work: Work, problem: Problem, begun: Mapping[str, Placed]) -> Work:
    """The same work once these steps of its problem have begun, as they were placed."""
    standing = [_standing(step, begun[step.id]) for step in problem.steps if step.id in begun and not step.begun]
    stages = {(piece, step.stage) for step in standing for piece in step.pieces}
    pieces = [
        replace(piece, past=piece.past | {stage for name, stage in stages if name == piece.id}) for piece in work.pieces
    ]
    return replace(work, pieces=tuple(pieces), standing=(*work.standing, *standing))


def begin(book: Book, stages: Sequence[str], *, only: Collection[str] = (), floor: Floor | None = None) -> Work:
    """The book's work once those stages have begun, one after the other from `NOW` on, for all pieces or for some."""
    work = book.work(floor)
    problem = problem_of(work, origin=ORIGIN, now=NOW)
    begun, at = {}, NOW
    for stage in stages:
        for step in steps_at(problem, stage):
            if not only or set(only) & set(step.about["pieces"]):
                stations = tuple(need.any_of[0] for need in step.stations)
                begun[step.id] = Placed(step.id, at, at + step.minutes, problem.people[0].id, stations)
                at += step.minutes
    return later(work, problem, begun)


def _standing(step: Step, placed: Placed) -> StandingStep:
    return StandingStep(
        id=step.id,
        stage=step.about["stage"],
        batch=step.about["batch"],
        pieces=tuple(step.about["pieces"]),
        begun=Begun(placed.start, placed.person, placed.stations),
        segments=step.segments,
        skill=step.skill,
        about=step.about,
    )


def stages_of(problem: Problem, piece: str) -> list[str]:
    """The stages of the steps of one piece, in the order of the problem."""
    return [step.about["stage"] for step in problem.steps if piece in step.about["pieces"]]


def steps_at(problem: Problem, stage: str) -> list[Step]:
    return [step for step in problem.steps if step.about["stage"] == stage]


def groups_at(problem: Problem, stage: str) -> list[set[str]]:
    """Which pieces do that stage together."""
    return [set(step.about["pieces"]) for step in steps_at(problem, stage)]
