"""Batches of which some step has begun: their pieces stay together for the stages they share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.making.batches import Batch, batch_of
from planner.making.pieces import StandingStep
from planner.making.routes import Together, together_at
from planner.making.tracks import Track


class Kept:
    """Knows in which begun batch a piece is, in each company."""

    def __init__(self, tracks: Sequence[Track], standing: Iterable[StandingStep]) -> None:
        self.tracks = tracks
        self._batches: dict[tuple[str, Together], str] = {}
        for step in sorted(standing, key=lambda step: (step.begun.start, step.id)):
            self._keep(step, together_at(step.stage))

    def batch(self, track: Track, together: Together) -> str | None:
        """The id of the begun batch in which a piece is."""
        return self._batches.get((track.id, together))

    def batches(self, together: Together) -> list[Batch]:
        """The begun batches with what they have still to do, without the pieces that are gone."""
        groups: dict[str, list[Track]] = {}
        for track in self._waiting(together):
            if batch := self.batch(track, together):
                groups.setdefault(batch, []).append(track)
        return [batch_of(together, tracks, id_=batch) for batch, tracks in groups.items()]

    def others(self, together: Together) -> list[Track]:
        """The pieces with such stages to do that are in no begun batch."""
        return [track for track in self._waiting(together) if not self.batch(track, together)]

    def _waiting(self, together: Together) -> list[Track]:
        return [track for track in self.tracks if track.stages(together)]

    def _keep(self, step: StandingStep, together: Together) -> None:
        for piece in step.pieces:
            if together is Together.BED_LOAD:
                # The first load is the one that lots come from, not a later one for carving.
                self._batches.setdefault((piece, together), step.batch)
            else:
                self._batches[piece, together] = step.batch
