"""How soon the first plan is there, and what some seconds of search save: one line a size.

python -m benchmarks.quick_plan --sizes 60 300 1000 2000 --seconds 10
"""

from __future__ import annotations

import argparse
import sys
from time import perf_counter

from benchmarks.workshops import workshop
from planner import broken_rules, quick_plan, solve
from planner.costing import late_orders

HEAD = "  steps  seed  first plan s  its cost  searched s      cost  saved %  late  changeover min  bound"


def measure(size: int, seed: int, seconds: float, tight: float) -> str:
    """One line of the table; a plan that breaks a rule ends the run."""
    problem = workshop(size, seed, tight=tight)
    began = perf_counter()
    first = quick_plan(problem)
    first_seconds = perf_counter() - began
    best = solve(problem, seconds=seconds, seed=seed)
    for plan in (first, best):
        broken = broken_rules(problem, plan)
        if broken:
            sys.exit(f"{size} steps, seed {seed}: {broken[0]}")
    saved = 100 * (first.cost - best.cost) / first.cost if first.cost else 0.0
    changeover = sum(row.changeover for row in best.placed)
    return (
        f"{len(problem.steps):7} {seed:5} {first_seconds:13.2f} {first.cost:9.1f} {best.seconds:11.1f} {best.cost:9.1f}"
        f" {saved:8.1f} {late_orders(problem, best):5} {changeover:15} {best.bound or 0:6.1f}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", type=int, nargs="+", default=[60, 300, 1000, 2000])
    parser.add_argument("--seeds", type=int, nargs="+", default=[1])
    parser.add_argument("--seconds", type=float, default=10)
    parser.add_argument("--tight", type=float, default=4, help="days by which dues may come too soon")
    chosen = parser.parse_args()
    sys.stdout.write(HEAD + "\n")
    for size in chosen.sizes:
        for seed in chosen.seeds:
            sys.stdout.write(measure(size, seed, chosen.seconds, chosen.tight) + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
