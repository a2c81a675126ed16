"""What the engine makes of invented workshops: one line a problem, and a line of means a size.

python -m benchmarks.engine --sizes 60 150 400 1000 2000 --seeds 1 2 3 4 --seconds 2 10 10 20 30
"""

from __future__ import annotations

import argparse
import math
import resource
import sys
from time import perf_counter, process_time

from benchmarks.workshops import full_workshop, workshop
from planner import Problem, broken_rules, quick_plan, solve
from planner.costing import late_orders
from planner.search.listing import ListRule
from planner.search.pressing import Pressing, by_due

HEAD = (
    "  steps  seed  due-date rule  first plan s   its cost  seconds   cpu s       cost  ratio      bound  gap %  late"
    "  status"
)


def measure(problem: Problem, size: int, seed: int, seconds: float) -> tuple[str, float]:
    """One line of the table and the cost relative to the due-date rule; a plan that breaks a rule ends the run."""
    rule = ListRule(problem)
    by_dates = rule.plan(by_due(Pressing(rule.facts))).cost
    began = perf_counter()
    first = quick_plan(problem)
    first_seconds = perf_counter() - began
    began = process_time()
    best = solve(problem, seconds=seconds, seed=seed)
    cpu_seconds = process_time() - began
    for plan in (first, best):
        broken = broken_rules(problem, plan)
        if broken:
            sys.exit(f"{size} steps, seed {seed}: {broken[0]}")
    ratio, bound = best.cost / by_dates, best.bound or 0.0
    gap = 100 * (best.cost - bound) / bound if bound else math.inf
    return (
        f"{len(problem.steps):7} {seed:5} {by_dates:14.1f} {first_seconds:13.2f} {first.cost:10.1f} {best.seconds:8.1f}"
        f" {cpu_seconds:7.1f} {best.cost:10.1f} {ratio:6.3f} {bound:10.1f} {gap:6.1f} {late_orders(problem, best):5}"
        f"  {best.status.value}"
    ), ratio


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", type=int, nargs="+", default=[60, 150, 400, 1000])
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2])
    parser.add_argument("--seconds", type=float, nargs="+", default=[10], help="one for all sizes, or one a size")
    parser.add_argument("--tight", type=float, default=6, help="days by which dues may come too soon")
    parser.add_argument("--full", action="store_true", help="workshops as busy as can be, orders of several lots")
    chosen = parser.parse_args()
    solve(workshop(60, 0), seconds=1)  # so that nothing is loaded or compiled while a clock runs
    print(HEAD)
    for place, size in enumerate(chosen.sizes):
        ratios = []
        for seed in chosen.seeds:
            problem = full_workshop(size, seed) if chosen.full else workshop(size, seed, tight=chosen.tight)
            line, ratio = measure(problem, size, seed, chosen.seconds[min(place, len(chosen.seconds) - 1)])
            ratios.append(ratio)
            print(line, flush=True)
        print(f"{size:7}  geometric mean of the ratios {math.prod(ratios) ** (1 / len(ratios)):.3f}")
    print(f"memory at its peak: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main()
