"""The route of a piece, laid down in one table: what is done, as what pieces come together, whose hands, where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from math import ceil

from planner.errors import MakingError
from planner.making.pieces import CommonMinutes, Design, Detail, Finish, Floor
from planner.parts import Wait

NO_WAIT: Wait = (0, None)


class Together(StrEnum):
    """As what pieces come together for a stage."""

    GLUE_UP = "glue-up"
    CUTTING = "cutting"
    BED_LOAD = "bed load"
    LOT = "bench"
    OILING = "oiling"
    PACKING = "packing"


GLUE_UP, CUTTING, BED_LOAD, LOT, OILING, PACKING = Together


def never(_: Design) -> bool:
    return False


def glued(design: Design) -> bool:
    return design.is_glued


def single(design: Design) -> bool:
    return not design.is_glued


def routed(design: Design) -> bool:
    return bool(design.passes)


def sanded(design: Design) -> bool:
    return design.sanding_minutes > 0


def oiled(design: Design) -> bool:
    return design.finish is not None


def always(_: Design) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Kind:
    """A row of the table."""

    name: str
    together: Together
    skill: str
    role: str | None
    has: Callable[[Design], bool] = never


# fmt: off
ROUTE = (
    #    what       together   hands      station    a piece has it if its design is
    Kind("rip",     GLUE_UP,   "wood",    "saw",     glued),   # these five only where no blank is ready in stock
    Kind("glue",    GLUE_UP,   "wood",    "clamps",  glued),
    Kind("unclamp", GLUE_UP,   "wood",    None,      glued),
    Kind("flatten", GLUE_UP,   "wood",    "planer",  glued),
    Kind("cut",     CUTTING,   "wood",    "saw",     single),
    Kind("router",  BED_LOAD,  "router",  "router",  routed),
    Kind("sand",    LOT,       "sanding", "sanding", sanded),
    Kind("mask",    LOT,       "detail",  None),               # from here the details, in the order the design wants
    Kind("carve",   BED_LOAD,  "router",  "router"),
    Kind("brush",   LOT,       "detail",  None),
    Kind("seal",    LOT,       "detail",  "paint"),
    Kind("paint",   LOT,       "detail",  "paint"),
    Kind("peel",    LOT,       "detail",  None),
    Kind("laser",   LOT,       "laser",   "laser"),            # to here
    Kind("oil",     OILING,    "finish",  "rack",    oiled),
    Kind("wipe",    OILING,    "finish",  "rack",    oiled),
    Kind("pack",    PACKING,   "packing", None,      always),
)
# fmt: on

MINUTES: dict[str, Callable[[Design, CommonMinutes], float]] = {
    "rip": lambda _, common: common.rip,
    "glue": lambda _, common: common.glue,
    "unclamp": lambda _, common: common.unclamp,
    "flatten": lambda _, common: common.flatten,
    "cut": lambda _, common: common.cut_blank,
    "router": lambda design, _: sum(each.minutes for each in design.passes),
    "sand": lambda design, _: design.sanding_minutes,
    "oil": lambda design, _: finish_of(design).apply_minutes,
    "wipe": lambda design, _: finish_of(design).wipe_minutes,
    "pack": lambda _, common: common.pack_per_piece,
}
"""Minutes of work on one piece; a detail says its own."""

DETAILS = {kind.name: kind for kind in ROUTE if kind.has is never}
BLANK_MAKING = (GLUE_UP, CUTTING)


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage in the route of one piece, with the minutes of work on it."""

    name: str  # a kind's name; where a design asks for it again, “paint 2”
    kind: Kind
    minutes: int
    alone_minutes: int = 0  # then it stands alone before the stage is over: in clamps, drying
    wait: Wait = NO_WAIT  # and rests so long before the next stage
    detail: Detail | None = None


def route_of(design: Design, floor: Floor, *, has_blank: bool = False) -> tuple[Stage, ...]:
    """Every stage of a piece of this design, in order; one with a ready blank starts at the router."""
    kinds = [kind for kind in ROUTE if kind.has(design) and not (has_blank and kind.together in BLANK_MAKING)]
    before = [_stage(kind, design, floor) for kind in kinds if kind.together not in (OILING, PACKING)]
    a_coat = [_stage(kind, design, floor) for kind in kinds if kind.together is OILING]
    coats = [replace(stage, name=again(stage.name, coat)) for coat in coats_of(design) for stage in a_coat]
    packing = [_stage(kind, design, floor) for kind in kinds if kind.together is PACKING]
    return (*before, *_details(design), *coats, *packing)


def coats_of(design: Design) -> range:
    """The numbers of a design's coats of oil, from 1."""
    return range(1, (design.finish.coats if design.finish else 0) + 1)


def again(name: str, time: int) -> str:
    """What a stage is called where it comes for that time: paint, paint 2."""
    return name if time == 1 else f"{name} {time}"


def together_at(stage: str) -> Together:
    """As what pieces come together for a stage of that name."""
    return next(kind.together for kind in ROUTE if kind.name == stage.partition(" ")[0])


def still_to_do(route: Sequence[Stage], past: Collection[str]) -> tuple[Stage, ...]:
    """What comes after the last stage that has begun; one before it that nobody ticked must have happened too."""
    begun = [place for place, stage in enumerate(route) if stage.name in past]
    return tuple(route[begun[-1] + 1 :] if begun else route)


def waits_of(route: Sequence[Stage], floor: Floor) -> Iterator[tuple[str, str, Wait]]:
    """The waits between the stages of a route: one to the next, and the cure from the glue-up to its machining."""
    for before, after in pairwise(route):
        least, most = before.wait
        # Nothing is spoilt by a piece that waits in front of its box for the rest of its order.
        yield before.name, after.name, (least, None if after.kind.together is PACKING else most)
    if any(stage.name == "glue" for stage in route):
        yield "glue", "flatten", (floor.glue.cure_minutes, None)


def _details(design: Design) -> Iterator[Stage]:
    seen: Counter[str] = Counter()
    for detail in design.details:
        if detail.kind not in DETAILS:
            raise MakingError(f"{design.name} asks for “{detail.kind}”, which is no detail: {', '.join(DETAILS)} are.")
        seen[detail.kind] += 1
        name = again(detail.kind, seen[detail.kind])
        wait = (detail.rest_least_minutes, detail.rest_most_minutes)
        yield Stage(name, DETAILS[detail.kind], max(1, detail.minutes), wait=wait, detail=detail)


def _stage(kind: Kind, design: Design, floor: Floor) -> Stage:
    alone_minutes, wait = 0, NO_WAIT
    if kind.name == "glue":
        alone_minutes = floor.glue.clamp_minutes
    elif kind.name == "oil":
        wait = (finish_of(design).soak_least_minutes, finish_of(design).soak_most_minutes)
    elif kind.name == "wipe":
        alone_minutes = finish_of(design).dry_minutes
    return Stage(kind.name, kind, max(1, ceil(MINUTES[kind.name](design, floor.minutes))), alone_minutes, wait)


def finish_of(design: Design) -> Finish:
    """The finish of an oiled design."""
    if design.finish is None:
        raise MakingError(f"{design.name} has no finish to put on.")
    return design.finish
