"""Cutting stock in one dimension and rip plans: how far from the best known, from a bound, and how long it takes.

python -m benchmarks.ripping bins DIR --seconds 10
python -m benchmarks.ripping strips --sizes 30 100 200 --seeds 10 --seconds 10
python -m benchmarks.ripping boards --sizes 3 6 12 24 --seeds 4 --seconds 10

`bins` reads Falkenauer's bin packing classes of the OR-Library (binpack1.txt: u120, binpack2.txt: u250): each item a
strip, each bin a bar, no kerf. `strips` cuts seeded strips from bars of one and of two lengths, `boards` rips seeded
boards for as many panels as the size says; both are measured against their own bound.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from statistics import mean
from time import perf_counter

from planner.layout.cutting.strips import CuttingPlan, StockLength, StripWanted, cut_strips
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.ripping import rip_plan
from planner.layout.ripping.rules import broken_rip_rules

FILES = ("binpack1.txt", "binpack2.txt")


def instances(folder: Path) -> Iterator[tuple[str, int, int, list[int]]]:
    """Name, room of a bin, best number of bins known to the file, sizes."""
    for file in FILES:
        words = iter((folder / file).read_text().split())
        for _ in range(int(next(words))):
            name, room, count, best = next(words), int(next(words)), int(next(words)), int(next(words))
            yield name, room, best, [int(next(words)) for _ in range(count)]


def check(name: str, plan: CuttingPlan, sizes: Sequence[float]) -> None:
    """A plan that loses a strip or over-fills a bar ends the run."""
    cut = sorted(strip for bar in plan.bars for strip in bar.strips_in)
    if cut != sorted(sizes) or any(sum(bar.strips_in) > bar.stock_length_in + 1e-6 for bar in plan.bars):
        sys.exit(f"{name}: the plan is no plan")


def bins(folder: Path, seconds: float) -> None:
    over, proved, times = 0, 0, []
    print(f"{'set':>10} {'bins':>5} {'best known':>10} {'bound':>6} {'proved':>7} {'seconds':>8}")
    for name, room, best, sizes in instances(folder):
        began = perf_counter()
        plan = cut_strips([StripWanted(size) for size in sizes], [StockLength(room)], 0, seconds)
        times.append(perf_counter() - began)
        check(name, plan, sizes)
        over += len(plan.bars) - best
        proved += plan.is_proved
        row = f"{len(plan.bars):5d} {best:10d} {plan.bound:6d} {plan.is_proved!s:>7} {times[-1]:8.1f}"
        print(f"{name:>10} {row}", flush=True)
    print(f"{over:+d} bins over the best known to the files, in all; {proved} of {len(times)} proved")
    print(f"{mean(times):.1f} s each, at most {max(times):.1f} s")


def strips(sizes: Sequence[int], seeds: int, seconds: float) -> None:
    """Lengths in quarter inches from 2.5 to 15 in, a kerf of a quarter inch."""
    for size in sizes:
        for lengths in ((97,), (120, 170)):
            gaps, times, proved = [], [], 0
            for seed in range(seeds):
                rng = Random(seed)  # noqa: S311
                wanted = [rng.randint(10, 60) / 4 for _ in range(size)]
                began = perf_counter()
                stock = [StockLength(each / 4) for each in lengths]
                plan = cut_strips([StripWanted(each) for each in wanted], stock, 0.25, seconds)
                times.append(perf_counter() - began)
                check(f"{size} strips, seed {seed}", plan, wanted)
                gaps.append(100 * plan.gap)
                proved += plan.is_proved
            told = f"mean gap {mean(gaps):.2f} %, largest {max(gaps):.2f} %, {proved} of {seeds} proved"
            print(f"{size} strips, {len(lengths)} lengths: {told}, {mean(times):.1f} s each", flush=True)


def boards(sizes: Sequence[int], seeds: int, seconds: float) -> None:
    """Boards of random length and width, panels of some lengths and random widths, strips as they come."""
    for size in sizes:
        gaps, counts, times, proved = [], [], [], 0
        for seed in range(seeds):
            rng = Random(seed)  # noqa: S311
            stock = [_board(f"b{n}", rng) for n in range(2 + size)]
            wanted = [
                PanelWanted(f"p{n}", rng.choice([14, 16, 20, 24]), rng.randint(8, 16), 0.75, "cherry")
                for n in range(size)
            ]
            began = perf_counter()
            plan = rip_plan(stock, wanted, seconds=seconds)
            times.append(perf_counter() - began)
            broken = broken_rip_rules(stock, wanted, RipAllowances(), plan)
            if broken:
                sys.exit(f"{size} panels, seed {seed}: {broken[0]}")
            gaps.append(100 * plan.gap)
            counts.append(sum(len(panel.strips) for panel in plan.panels))
            proved += plan.is_proved
        told = f"mean gap {mean(gaps):.2f} %, largest {max(gaps):.2f} %, {proved} of {seeds} proved"
        print(f"{size} panels, {mean(counts):.0f} strips: {told}, {mean(times):.1f} s each", flush=True)


def _board(name: str, rng: Random) -> StockBoard:
    return StockBoard(name, rng.choice([72, 84, 96]), rng.randint(16, 40) / 4, 1, "cherry")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("set", choices=["bins", "strips", "boards"])
    parser.add_argument("folder", type=Path, nargs="?", help="where binpack1.txt and binpack2.txt are")
    parser.add_argument("--sizes", type=int, nargs="+", default=[30])
    parser.add_argument("--seeds", type=int, default=4)
    parser.add_argument("--seconds", type=float, default=10)
    chosen = parser.parse_args()
    if chosen.set == "bins":
        if chosen.folder is None:
            parser.error("bins needs the folder of binpack1.txt and binpack2.txt")
        bins(chosen.folder, chosen.seconds)
    else:
        {"strips": strips, "boards": boards}[chosen.set](chosen.sizes, chosen.seeds, chosen.seconds)


if __name__ == "__main__":
    main()
