"""From pieces on their way to batches. The same work gives the same batches with the same ids."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from planner.making.batches import Batch, batch_of, batch_of_load
from planner.making.blanks import clamps_for
from planner.making.company import in_even_parts
from planner.making.kept import Kept
from planner.making.oilings import oilings
from planner.making.pace import Pace
from planner.making.pieces import StandingStep
from planner.making.routes import Together
from planner.making.tracks import Track
from planner.making.visits import carving_loads, main_loads, router_of
from planner.trade.glue import panels_in_one_go

LOT_MINUTES = 90
"""With more hands minutes than this at one stage the first piece of a lot waits too long for its last."""


def batches_of(tracks: Sequence[Track], standing: Iterable[StandingStep], pace: Pace) -> list[Batch]:
    """Every piece once in a batch for each stage that it has still to do. `tracks` come most urgent first."""
    return _Batching(tracks, standing, pace).batches()


class _Batching:
    """One batching, in the order in which each kind of batch leans on the one before."""

    def __init__(self, tracks: Sequence[Track], standing: Iterable[StandingStep], pace: Pace) -> None:
        self.tracks, self.pace = tracks, pace
        self.router = router_of(pace)
        self.kept = Kept(tracks, standing)
        self.loads = main_loads(tracks, self.router)
        self.load_of = {job.track.id: f"load {n}" for n, load in enumerate(self.loads) for job in load.jobs}
        self.routed_at = dict(self._routed_at())

    def batches(self) -> list[Batch]:
        lots = [*self.kept.batches(Together.LOT), *self._new_lots()]
        self.lots = {track.id: lot.id for lot in lots for track in lot.tracks}
        carvings = carving_loads(self.tracks, self.router, self._reaches, self.lots)
        return [
            *self.kept.batches(Together.GLUE_UP),
            *self._new_glue_ups(),
            *self._cuttings(),
            *map(batch_of_load, self.loads),
            *lots,
            *map(batch_of_load, carvings),
            *self.kept.batches(Together.OILING),
            *oilings(self.kept.others(Together.OILING), self.pace, self._reaches, self.lots),
            *self._packings(),
        ]

    def _new_glue_ups(self) -> Iterator[Batch]:
        """The panels of one bed load are glued up together, in as few goes as clamps and open time allow."""
        for tracks in self._by_load(self.kept.others(Together.GLUE_UP)):
            most = min(self._in_one_go(tracks), self._most_at_once(Together.GLUE_UP, tracks))
            for part in in_even_parts(tracks, most):
                yield batch_of(Together.GLUE_UP, part)

    def _in_one_go(self, tracks: Sequence[Track]) -> int:
        """Panels that are closed before the first one's glue skins over, with the clamps there are; one in any case."""
        a_panel = max(clamps_for(track.piece.design) for track in tracks)
        clamps = self.pace.station("clamps")
        floor = self.pace.floor
        go = panels_in_one_go(
            open_minutes=floor.glue.open_minutes,
            minutes_to_spread_and_close_a_panel=floor.minutes.close,
            clamps_free=clamps.capacity if clamps else a_panel * len(tracks),
            clamps_a_panel=a_panel,
        )
        return max(1, go.panels)

    def _cuttings(self) -> Iterator[Batch]:
        """Single blanks for one bed load are cut together."""
        for tracks in self._by_load(track for track in self.tracks if track.stages(Together.CUTTING)):
            for part in in_even_parts(tracks, self._most_at_once(Together.CUTTING, tracks)):
                yield batch_of(Together.CUTTING, part)

    def _new_lots(self) -> Iterator[Batch]:
        """The pieces of one line that came off the router together stay together at the bench."""
        for tracks in self._by_load(self.kept.others(Together.LOT)):
            for _, line in groupby(sorted(tracks, key=_line), key=_line):
                pieces = list(line)
                for part in in_even_parts(pieces, self._most_at_once(Together.LOT, pieces)):
                    yield batch_of(Together.LOT, part)

    def _packings(self) -> Iterator[Batch]:
        """An order is packed in one go where that is no longer than somebody usually works, else in even parts."""
        packed = [track for track in self.tracks if track.stages(Together.PACKING)]
        for _, tracks in groupby(sorted(packed, key=_order), key=_order):
            for part in in_even_parts(list(tracks), self._most_in_a_packing()):
                yield batch_of(Together.PACKING, part)

    def _most_in_a_packing(self) -> int:
        minutes = self.pace.floor.minutes
        return max(1, (self.pace.usual_stretch("packing") - minutes.pack) // max(1, minutes.pack_per_piece))

    def _by_load(self, tracks: Iterable[Track]) -> list[list[Track]]:
        """Pieces with those of their bed load, or with those with which they came off the router."""
        groups: dict[str, list[Track]] = defaultdict(list)
        for track in tracks:
            load = self.load_of.get(track.id) or self.kept.batch(track, Together.BED_LOAD) or " ".join(_line(track))
            groups[load].append(track)
        return list(groups.values())

    def _most_at_once(self, together: Together, tracks: Sequence[Track]) -> int:
        """How many such pieces one lot takes, so that no stage of it is too long for a person or a stretch of work."""
        stages = [stage for track in tracks for stage in track.stages(together)]
        limits = (
            min(LOT_MINUTES, self.pace.usual_stretch(stage.kind.skill, stage.kind.role)) // stage.minutes
            for stage in stages
        )
        return max(1, min(limits))

    def _routed_at(self) -> Iterator[tuple[str, int]]:
        """About when each piece comes off the router, if loads go in order of urgency."""
        at = self.pace.now
        for load in self.loads:
            start = max(at, *(job.member.ready for job in load.jobs))
            at = start + self.pace.elapsed(sum(minutes for _, minutes in load.bit_minutes))
            yield from ((job.track.id, at) for job in load.jobs)

    def _reaches(self, track: Track, stage: str) -> int:
        """About when a piece is at a stage, with the queue at the router ahead of it."""
        if track.id in self.routed_at:
            return self.routed_at[track.id] + track.lead("router", stage)
        return track.reaches(stage)


def _line(track: Track) -> tuple[str, str]:
    return track.piece.order, track.piece.line


def _order(track: Track) -> str:
    return track.piece.order
