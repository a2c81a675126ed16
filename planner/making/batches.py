"""A batch: pieces that do their next stages together, known by an id that the same pieces always get."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import blake2s

from planner.making.beds import Load
from planner.making.routes import Together
from planner.making.tracks import Track


@dataclass(frozen=True, eq=False)
class Batch:
    """Pieces and the stages they have still to do together; a bed load also knows its bits and its places."""

    id: str
    together: Together
    stages: tuple[str, ...]
    tracks: tuple[Track, ...]
    load: Load | None = None


def batch_of(together: Together, tracks: Sequence[Track], *, id_: str | None = None) -> Batch:
    """A batch of these pieces for all that they have still to do in such company."""
    stages = dict.fromkeys(stage.name for track in tracks for stage in track.stages(together))
    return Batch(id_ or id_of(together, (track.id for track in tracks)), together, tuple(stages), tuple(tracks))


def batch_of_load(load: Load) -> Batch:
    """A bed load as a batch; a second visit to the router is another batch of the same pieces."""
    stage, tracks = load.jobs[0].stage, tuple(job.track for job in load.jobs)
    name = "load" if stage == "router" else f"{stage} load"
    return Batch(id_of(name, (track.id for track in tracks)), Together.BED_LOAD, (stage,), tracks, load)


def id_of(name: str, pieces: Iterable[str]) -> str:
    """An id that the same pieces at the same stage always get."""
    ordered = sorted(pieces, key=lambda piece: (len(piece), piece))
    digest = blake2s("\n".join(ordered).encode(), digest_size=4).hexdigest()
    return f"{name}-{ordered[0]}-{digest}".replace(" ", "-")
