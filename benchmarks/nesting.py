"""How full panels get: on seeded sets cut from a full panel, and on published sets of rectangles.

    python -m benchmarks.nesting --seeds 5 --tries 600
    python -m benchmarks.nesting --sets folder --like hopper2000/n1 --best data_bin_packing_rotation.csv

The first fills the first panel and sets its yield beside that of a general-purpose packing library (the best of six of
its algorithms, turned by the same rules). The second reads a folder of sets, each two files, `..._bins.csv` and
`..._items.csv` with X, Y and COPIES, and counts panels; with `--best`, a file in that folder or beside it of the best
known counts. Published files are read where they lie and are no part of the project.
"""

from __future__ import annotations

import argparse
import csv
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from statistics import mean
from time import process_time

import rectpack
from shapely import box

from planner.layout.nest_rules import broken_nest_rules
from planner.layout.nesting import TRIES, nest
from planner.layout.panels import Nest, NestPiece, PanelRules, PanelSize, PanelStock, Turns

PANEL = (48.0, 24.0)
MANY = 10_000
LIBRARY = (
    rectpack.MaxRectsBssf,
    rectpack.MaxRectsBaf,
    rectpack.MaxRectsBl,
    rectpack.SkylineMwfl,
    rectpack.SkylineBl,
    rectpack.GuillotineBssfSas,
)
Size = tuple[float, float]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--tries", type=int, default=TRIES)
    parser.add_argument("--sets", type=Path)
    parser.add_argument("--like", default="")
    parser.add_argument("--best")
    parser.add_argument("--turn", choices=[each.value for each in Turns], default=Turns.QUARTERS.value)
    asked = parser.parse_args()
    if asked.sets:
        published(asked.sets, asked.like, asked.best, Turns(asked.turn), asked.tries)
    else:
        cut_sets(asked.seeds, asked.tries)


def cut_sets(seeds: int, tries: int) -> None:
    """Full panels cut up by straight cuts and filled again."""
    print("turns      grid  pieces  ours    worst   full  library  cpu s")
    everything = []
    for turns in (Turns.HALF, Turns.QUARTERS):
        for grid_in in (0.0, 1 / 16, 1 / 2, 1.0):
            for count in (10, 20, 30, 40):
                rows = [_cut_set(turns, grid_in, count, seed, tries) for seed in range(seeds)]
                ours, librarys, seconds = zip(*rows, strict=True)
                full = sum(each > 1 - 1e-9 for each in ours)
                print(
                    f"{turns.value:9} {grid_in:5g} {count:7} {mean(ours):7.4f} {min(ours):7.4f} {full:3}/{seeds} "
                    f"{mean(librarys):8.4f} {mean(seconds):6.2f}",
                    flush=True,
                )
                everything += rows
    print(f"mean yield {mean(row[0] for row in everything):.4f}, library {mean(row[1] for row in everything):.4f}")


def _cut_set(turns: Turns, grid_in: float, count: int, seed: int, tries: int) -> tuple[float, float, float]:
    rng = Random(f"{count} {grid_in} {seed}")  # noqa: S311 - a repeatable set
    parts = cut_up(rng, count, grid_in)
    if turns is Turns.QUARTERS:
        parts = [part if rng.random() < 0.5 else part[::-1] for part in parts]
    found, seconds = filled(parts, PANEL, turns, tries)
    return found.panels[0].yield_fraction, librarys_yield(parts, turns), seconds


def cut_up(rng: Random, count: int, grid_in: float) -> list[Size]:
    """The panel cut into so many rectangles, each cut straight through a part, large parts sooner than small ones."""
    parts = [PANEL]
    while len(parts) < count:
        at = rng.choices(range(len(parts)), [length * width for length, width in parts])[0]
        length, width = parts[at]
        side = length if rng.random() < length / (length + width) else width
        cut = rng.uniform(0.2, 0.8) * side
        cut = round(cut / grid_in) * grid_in if grid_in else cut
        if 0 < cut < side:
            ends = [(cut, width), (side - cut, width)] if side == length else [(length, cut), (length, side - cut)]
            parts[at : at + 1] = ends
    rng.shuffle(parts)
    return parts


def filled(parts: Sequence[Size], panel: Size, turns: Turns, tries: int) -> tuple[Nest, float]:
    """The nest of rectangles without spacing or margins, judged, and the processor seconds it took."""
    pieces = [NestPiece(f"p{n}", f"piece {n}", box(0, 0, *part), turns) for n, part in enumerate(parts)]
    rules = PanelRules(0, 0, 0, 0, panel[1], *panel)
    began = process_time()
    found = nest(pieces, rules, panels=[PanelStock(PanelSize(*panel), MANY)], tries=tries)
    seconds = process_time() - began
    if broken := broken_nest_rules(pieces, rules, found):
        raise SystemExit(f"a rule is broken: {broken[0]}")
    return found, seconds


def librarys_yield(parts: Sequence[Size], turns: Turns) -> float:
    """The most that any of the library's algorithms lays on the first panel."""
    best = 0.0
    for algorithm in LIBRARY:
        packer = rectpack.newPacker(rotation=turns is not Turns.HALF, pack_algo=algorithm)
        for part in parts:
            packer.add_rect(*part)
        packer.add_bin(*PANEL)
        packer.pack()
        best = max(best, sum(rect.width * rect.height for rect in packer[0]))
    return best / (PANEL[0] * PANEL[1])


def published(folder: Path, like: str, best_file: str | None, turns: Turns, tries: int) -> None:
    """Panels used for published sets, beside the best known where that is given."""
    best = _best_known(folder, best_file) if best_file else {}
    print("set                                panels  best  first yield  cpu s")
    over = []
    for name, panel, parts in _sets(folder, like):
        found, seconds = filled(parts, panel, turns, tries)
        known = best.get(name)
        over += [len(found.panels) - known] if known is not None else []
        first = found.panels[0].yield_fraction
        print(f"{name:34} {len(found.panels):6} {known or '':>5} {first:12.4f} {seconds:6.2f}", flush=True)
    if over:
        print(f"{len(over)} sets: {sum(each == 0 for each in over)} as the best known, {sum(over)} panels over in all")


def _sets(folder: Path, like: str) -> Iterator[tuple[str, Size, list[Size]]]:
    for bins in sorted(folder.rglob("*_bins.csv")):
        name = str(bins.relative_to(folder)).removesuffix("_bins.csv")
        if like in name:
            (panel,) = [size for size, _ in _rows(bins)]
            items = bins.with_name(bins.name.replace("_bins.csv", "_items.csv"))
            yield name, panel, [size for size, copies in _rows(items) for _ in range(copies)]


def _rows(path: Path) -> list[tuple[Size, int]]:
    with path.open(newline="", encoding="utf-8-sig") as file:
        rows = [{key.upper(): value for key, value in row.items()} for row in csv.DictReader(file)]
    return [
        ((float(row.get("X") or row["WIDTH"]), float(row.get("Y") or row["HEIGHT"])), int(row.get("COPIES") or 1))
        for row in rows
    ]


def _best_known(folder: Path, name: str) -> dict[str, int]:
    path = folder / name if (folder / name).exists() else folder.parent / name
    with path.open(newline="", encoding="utf-8-sig") as file:
        return {row[0]: int(row[1]) for row in list(csv.reader(file))[1:]}


if __name__ == "__main__":
    main()
