"""From a batch and one of its stages to the step that is planned: segments, stations, and the facts for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from planner.making.batches import Batch, id_of
from planner.making.beds import Load
from planner.making.obstacles import Obstacle
from planner.making.pieces import CommonMinutes, Floor, StandingStep
from planner.making.routes import Stage, Together
from planner.making.tracks import Track
from planner.making.wording import each_once, what
from planner.parts import Begun, Need, Segment, StationNeed, Step

HELD = {"clamps", "rack"}
"""Roles kept occupied from one stage to another by a hold, not by the steps."""
NEEDED = {"router": "is no router", "clamps": "are no clamps", "rack": "is no drying rack", "laser": "is no laser"}
"""Roles without which the work can't be done; where a shop has none, the step waits for a place that never opens."""
LASER_SET_UP_MINUTES = 2
BATCH_KINDS = {Together.CUTTING: "bench"}
"""What a batch is called outside where that is not its own name."""


def step_of(batch: Batch, name: str, floor: Floor, obstacle: Obstacle | None = None) -> Step:
    """One stage of a batch as a step; with an obstacle it needs a place that is not there."""
    tracks = [track for track in batch.tracks if track.has(name)]
    stages = [stage for track in tracks if (stage := track.stage(name))]
    bits = [bit for bit, _ in batch.load.bit_minutes] if batch.load else [None]
    return Step(
        id=id_of(name, (track.id for track in tracks)),
        segments=_segments(stages, batch.load, floor.minutes),
        skill=stages[0].kind.skill,
        stations=_stations(stages[0].kind.role, floor, obstacle),
        state_in=bits[0],
        state_out=bits[-1],
        about=_about(batch, stages[0], tracks) | _impossible(stages[0].kind.role, floor, obstacle),
    )


def begun_step(standing: StandingStep, floor: Floor) -> Step:
    """A step that has begun, as it really went, at those of its places and with the person who are still here."""
    here = {station.id for station in floor.stations}
    stations = tuple(station for station in standing.begun.stations if station in here)
    person = standing.begun.person if any(each.id == standing.begun.person for each in floor.people) else None
    bits = standing.about.get("bits") or [None]
    return Step(
        id=standing.id,
        segments=standing.segments,
        skill=standing.skill,
        stations=tuple(StationNeed((station,)) for station in stations),
        state_in=bits[0],
        state_out=bits[-1],
        begun=Begun(standing.begun.start, person, stations),
        about=standing.about,
    )


def stand_in(role: str, floor: Floor) -> str:
    """The id of the place that never opens, for a role that nothing here fills."""
    taken = {station.id for station in floor.stations}
    return role if role not in taken else f"{role} (none)"


def missing_roles(floor: Floor) -> set[str]:
    return {role for role in NEEDED if not floor.roles.get(role)}


def _stations(role: str | None, floor: Floor, obstacle: Obstacle | None) -> tuple[StationNeed, ...]:
    needs = []
    if role in missing_roles(floor):
        needs.append(StationNeed((stand_in(str(role), floor),)))
    elif role and role not in HELD and floor.roles.get(role):
        needs.append(StationNeed(floor.roles[role]))
    if obstacle:
        needs.append(StationNeed((obstacle.needed,)))
    return tuple(needs)


def _impossible(role: str | None, floor: Floor, obstacle: Obstacle | None) -> dict[str, str]:
    """What is missing for the step, in one sentence, where anything is."""
    if obstacle:
        return {"impossible": obstacle.why}
    return {"impossible": f"There {NEEDED[role]} in this workshop."} if role in missing_roles(floor) and role else {}


def _segments(stages: Sequence[Stage], load: Load | None, common: CommonMinutes) -> tuple[Segment, ...]:
    kind = stages[0].kind.name
    if load:
        return _load_segments(load, common)
    if kind == "laser":
        return tuple(
            segment
            for stage in stages
            for segment in (Segment(LASER_SET_UP_MINUTES, Need.HANDS), Segment(stage.minutes, Need.WATCH))
        )
    work = sum(stage.minutes for stage in stages) + (common.pack if kind == "pack" else 0)
    return _worked(work, Need.HANDS) + _worked(stages[0].alone_minutes, Need.ALONE)


def _load_segments(load: Load, common: CommonMinutes) -> tuple[Segment, ...]:
    """Hands to load, then bit after bit over the whole bed with a bit change between, then hands to unload."""
    segments = _worked(common.load + common.load_per_piece * len(load.jobs), Need.HANDS)
    for place, (_, minutes) in enumerate(load.bit_minutes):
        segments += _worked(common.bit_change if place else 0, Need.HANDS) + _worked(minutes, Need.WATCH)
    return segments + _worked(common.unload_per_piece * len(load.jobs), Need.HANDS)


def _worked(minutes: int, need: Need) -> tuple[Segment, ...]:
    return (Segment(minutes, need),) if minutes else ()


def _about(batch: Batch, stage: Stage, tracks: Sequence[Track]) -> dict[str, Any]:
    about: dict[str, Any] = {
        "kind": stage.kind.name,
        "stage": stage.name,
        "batch": batch.id,
        "batch_kind": BATCH_KINDS.get(batch.together, batch.together.value),
        "pieces": [track.id for track in tracks],
        "designs": each_once(track.piece.design.name for track in tracks),
        "orders": each_once(track.order.id for track in tracks),
        "what": what(stage, tracks, batch.load),
    }
    if batch.load:
        about |= _about_load(batch.load, stage, tracks)
    if stage.detail:
        texts = each_once(track.piece.text for track in tracks if track.piece.text)
        about |= {"text": " / ".join(texts), "colour": stage.detail.colour}
    return about


def _about_load(load: Load, stage: Stage, tracks: Sequence[Track]) -> dict[str, Any]:
    margins_in = {track.id: track.piece.design.margin_in for track in tracks}
    about: dict[str, Any] = {
        "bits": [bit for bit, _ in load.bit_minutes],
        "bit_minutes": [[bit, minutes] for bit, minutes in load.bit_minutes],
        "bits_of": {job.track.id: [bit for bit, _ in job.turns] for job in load.jobs},
        "thickness_in": tracks[0].piece.design.thickness_in,
        "layout": [
            # Where the outline begins, inside the margin of its blank.
            {
                "piece": place.id,
                "x_in": round(place.x_in + margins_in[place.id], 4),
                "y_in": round(place.y_in + margins_in[place.id], 4),
                "turned": place.turned,
            }
            for place in load.places
        ],
    }
    if stage.kind.name == "router":
        about["blanks"] = {track.id: track.blank for track in tracks if track.blank}
    return about
