"""What a step is called by the people who do it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from planner.making.beds import Load
from planner.making.routes import Stage, Together
from planner.making.tracks import Track
from planner.units import NM_PER_INCH, say_inches

VERBS = {
    "rip": "Rip and plane strips for",
    "glue": "Glue up",
    "unclamp": "Take off clamps and scrape",
    "flatten": "Plane flat",
    "cut": "Cut blanks for",
    "sand": "Sand",
    "mask": "Mask",
    "brush": "Brush clean",
    "seal": "Seal",
    "paint": "Paint",
    "peel": "Peel",
    "laser": "Laser",
    "oil": "Oil",
    "wipe": "Wipe",
}
LONGEST_LIST = 4


def what(stage: Stage, tracks: Sequence[Track], load: Load | None) -> str:
    """“Sand 4 Gull trays”, “Oil 6 pieces: 4 Gull trays, 2 Leaf dishes”, “Router: 6 pieces, 3/4 in stock, 3 bits”."""
    if load:
        return _load(stage.kind.name, tracks, load)
    if stage.kind.name == "pack":
        return f"Pack {tracks[0].order.id}: {_pieces(tracks)}"
    colour = f", {stage.detail.colour}" if stage.detail and stage.detail.colour else ""
    coat = stage.name.partition(" ")[2] if stage.kind.together is Together.OILING else ""
    return f"{VERBS[stage.kind.name]} {_pieces(tracks)}{colour}{coat and f', coat {coat}'}"


def _load(kind: str, tracks: Sequence[Track], load: Load) -> str:
    stock = say_inches(round(tracks[0].piece.design.thickness_in * NM_PER_INCH))
    bits = [bit for bit, _ in load.bit_minutes]
    said = "Router" if kind == "router" else "Carve"
    bits_said = bits[0] if len(bits) == 1 else f"{len(bits)} bits"
    return f"{said}: {counted(len(tracks), 'piece')}, {stock} in stock, {bits_said}"


def _pieces(tracks: Sequence[Track]) -> str:
    counts = Counter(track.piece.design.name for track in tracks)
    if len(counts) == 1:
        ((name, count),) = counts.items()
        return counted(count, name)
    return f"{len(tracks)} pieces: {_listed(counts.most_common())}"


def _listed(counts: Sequence[tuple[str, int]]) -> str:
    said = [counted(count, name) for name, count in counts[:LONGEST_LIST]]
    more = sum(count for _, count in counts[LONGEST_LIST:])
    return ", ".join([*said, f"{more} more"] if more else said)


def counted(count: int, name: str) -> str:
    """`1 Salt dish`, `3 Salt dishes`."""
    return f"{count} {name}" if count == 1 else f"{count} {plural(name)}"


def plural(name: str) -> str:
    """The plural of an English name of a thing, as far as its ending tells."""
    if name.endswith(("s", "x", "z", "ch", "sh")):
        return f"{name}es"
    if name.endswith("y") and not name.endswith(("ay", "ey", "oy", "uy")):
        return f"{name[:-1]}ies"
    return f"{name}s"


def each_once(names: Iterable[str]) -> list[str]:
    """The names in the order in which they first come."""
    return list(dict.fromkeys(names))
