"""Visits to the router: the main one of each piece, and one more for each carving."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from planner.making.beds import Job, Load, Router, bed_loads
from planner.making.bits import cuts_of
from planner.making.blanks import blank_for
from planner.making.company import member_at
from planner.making.pace import Pace
from planner.making.routes import Stage, Together
from planner.making.tracks import Track, must_stay_with

BOUNDLESS = (1e5, 1e5)
"""Stands for the bed where there is no router: nothing is laid out to be cut there."""

Reaches = Callable[[Track, str], int]


def router_of(pace: Pace) -> Router:
    """What limits a load on this floor."""
    bed = pace.floor.bed
    has_router = bool(pace.floor.roles.get("router"))
    return Router(
        bed=(bed.length_in, bed.width_in) if has_router else BOUNDLESS,
        gap_in=bed.gap_in,
        minutes=pace.floor.minutes,
        longest_load=pace.usual_stretch("router", "router"),
    )


def main_loads(tracks: Sequence[Track], router: Router) -> list[Load]:
    """Bed loads for every piece that is still to be routed: pieces of one thickness lie on one bed."""
    jobs = [
        Job(
            track=track,
            stage="router",
            cuts=cuts_of(track.piece.design.passes),
            blank=blank_for(track.piece),
            member=member_at(track, "router", track.reaches("router")),
            family=_family(track),
        )
        for track in tracks
        if track.has("router")
    ]
    return bed_loads(jobs, router)


def carving_loads(tracks: Sequence[Track], router: Router, reaches: Reaches, lots: Mapping[str, str]) -> list[Load]:
    """Bed loads for the carving of details; `reaches` says when a piece can be there, `lots` in which lot it is."""
    jobs = [_carving(track, stage, reaches, lots) for track, stage in _carvings(tracks)]
    return bed_loads(jobs, router)


def _carvings(tracks: Sequence[Track]) -> Iterator[tuple[Track, Stage]]:
    for track in tracks:
        yield from ((track, stage) for stage in track.stages(Together.BED_LOAD) if stage.detail)


def _carving(track: Track, stage: Stage, reaches: Reaches, lots: Mapping[str, str]) -> Job:
    bit = (stage.detail and stage.detail.bit) or "carving bit"
    # Pieces that rest by other windows after the carving can't share the link to what follows.
    family = (_family(track), stage.name, str(stage.wait), must_stay_with(track, stage.name, lots))
    return Job(
        track=track,
        stage=stage.name,
        cuts=(((bit, 1), float(stage.minutes)),),
        blank=blank_for(track.piece),
        member=member_at(track, stage.name, reaches(track, stage.name)),
        family=" ".join(family),
    )


def _family(track: Track) -> str:
    """Pieces of one thickness lie on one bed."""
    return f"{track.apart} {track.piece.design.thickness_in:.4f}"
