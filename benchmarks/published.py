"""Published instance sets said in the plan exchange, solved by the planner, and how far from the best known it ends.

python -m benchmarks.published setups DIR --numbers 41 85 --seconds 10
python -m benchmarks.published lateness DIR --seconds 2
python -m benchmarks.published jobshops FILE --names ft06 la21 --seconds 10

`setups` reads Cicirello's single-machine problems (wt_sds_1.instance to wt_sds_120.instance, and reference_values.csv
with the columns instance, and the best known in the second), `lateness` those of the OR-Library (wt40.txt, wtopt40.txt
and so on), `jobshops` a JSON file of duration_matrix, machines_matrix and metadata by name.
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from statistics import mean
from typing import NamedTuple

from planner import (
    Link,
    Need,
    Order,
    Prices,
    Problem,
    Segment,
    Station,
    StationNeed,
    Step,
    broken_rules,
    problem_from_json,
    problem_to_json,
    solve,
)

ORIGIN = datetime(2026, 1, 1, tzinfo=UTC)
HEAD = f"{'instance':>12} {'cost':>10} {'best known':>10} {'gap %':>8} {'bound':>10} {'seconds':>8}"
# Known since the file was put together (an archive of job-shop bounds, August 2026).
NEWER_BOUNDS = {
    "abz8": 667,
    "swv06": 1667,
    "swv08": 1751,
    "swv12": 2972,
    "yn4": 967,
    "ta32": 1783,
    "ta34": 1828,
    "ta44": 1978,
    "ta45": 1997,
    "ta46": 2002,
    "ta49": 1960,
}


class Instance(NamedTuple):
    """A problem by its name, and the best cost that anybody is known to have found."""

    name: str
    problem: Problem
    best: float


def in_turn(
    minutes: Sequence[int],
    weights: Sequence[int],
    dues: Sequence[int],
    setups: dict[tuple[int, int], int] | None = None,
) -> Problem:
    """One machine, an order a job; a minute late costs the job's weight. Job -1 is what stands there at first."""
    states = {number: None if setups is None else f"j{number}" for number in range(-1, len(minutes))}
    table = {(states[one], states[other]): each for (one, other), each in (setups or {}).items()}
    names = [f"job{number + 1}" for number in range(len(minutes))]
    return Problem(
        origin=ORIGIN,
        now=0,
        people=(),
        stations=(Station("machine", start_state=states[-1], changeovers=table),),
        steps=tuple(_step(name, minutes[n], "machine", states[n]) for n, name in enumerate(names)),
        orders=tuple(Order(name, (name,), dues[n], weights[n]) for n, name in enumerate(names)),
        prices=Prices(late_hour=60),
    )


def shop(durations: Sequence[Sequence[int]], machines: Sequence[Sequence[int]]) -> Problem:
    """Jobs that go from machine to machine; a minute until the last end costs 1."""
    steps, links = [], []
    for job, (minutes, where) in enumerate(zip(durations, machines, strict=True)):
        names = [f"job{job}.{place}" for place in range(len(minutes))]
        steps += [_step(*row) for row in zip(names, minutes, (f"m{each}" for each in where), strict=True)]
        links += [Link(*pair) for pair in pairwise(names)]
    stations = tuple(Station(name) for name in sorted({f"m{each}" for where in machines for each in where}))
    prices = Prices(makespan_hour=60)
    return Problem(ORIGIN, 0, (), stations, tuple(steps), tuple(links), prices=prices)


def _step(name: str, minutes: int, station: str, state: str | None = None) -> Step:
    return Step(name, (Segment(minutes, Need.ALONE),), stations=(StationNeed((station,)),), state_in=state)


def setups(folder: Path, numbers: Sequence[int]) -> Iterator[Instance]:
    """Weighted lateness with set-ups that depend on the sequence, 60 jobs."""
    with (folder / "reference_values.csv").open() as file:
        best = {int(row[0]): float(row[1]) for row in list(csv.reader(file))[1:]}
    for number in numbers or sorted(best):
        text = next(folder.rglob(f"wt_sds_{number}.instance")).read_text()
        minutes, weights, dues, rows = (
            [int(word) for word in text.partition(first)[2].partition(last)[0].split()]
            for first, last in pairwise(
                ["Process Times:", "Weights:", "Duedates:", "Setup Times:", "End Problem Specification"]
            )
        )
        table = {(one, other): each for one, other, each in zip(rows[::3], rows[1::3], rows[2::3], strict=True)}
        yield Instance(f"setups {number}", in_turn(minutes, weights, dues, table), best[number])


def lateness(folder: Path, numbers: Sequence[int], sizes: Sequence[int] = (40, 50)) -> Iterator[Instance]:
    """Weighted lateness without set-ups, 125 instances of 40 jobs and of 50."""
    for size in sizes:
        words = [int(word) for word in next(folder.rglob(f"wt{size}.txt")).read_text().split()]
        best = [int(word) for word in next(folder.rglob(f"wtopt{size}.txt")).read_text().split()]
        for number in numbers or range(1, len(best) + 1):
            at = 3 * size * (number - 1)
            rows = (words[at + part * size : at + (part + 1) * size] for part in range(3))
            yield Instance(f"wt{size} {number}", in_turn(*rows), best[number - 1])


def jobshops(file: Path, names: Sequence[str]) -> Iterator[Instance]:
    """Job shops by name; all ft and la where none is named."""
    known = json.loads(file.read_text())
    for name in names or [each for each in known if each.startswith(("ft", "la"))]:
        told = known[name]["metadata"]
        best = NEWER_BOUNDS.get(name) or told["optimum"] or told["upper_bound"]
        yield Instance(name, shop(known[name]["duration_matrix"], known[name]["machines_matrix"]), best)


def measured(instance: Instance, seconds: float, workers: int, seed: int) -> tuple[str, float]:
    """A line of the table and the gap; a plan that breaks a rule ends the run."""
    problem = problem_from_json(problem_to_json(instance.problem))
    plan = solve(problem, seconds=seconds, workers=workers, seed=seed)
    broken = broken_rules(problem, plan)
    if broken:
        sys.exit(f"{instance.name}: {broken[0]}")
    gap = 100 * (plan.cost - instance.best) / max(1, instance.best)
    bound = "" if plan.bound is None else f"{plan.bound:.0f}"
    line = f"{instance.name:>12} {plan.cost:10.0f} {instance.best:10.0f} {gap:8.2f} {bound:>10} {plan.seconds:8.1f}"
    return line, gap


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("set", choices=["setups", "lateness", "jobshops"])
    parser.add_argument("source", type=Path, help="the folder, or the file, of the set")
    parser.add_argument("--numbers", type=int, nargs="+", default=[])
    parser.add_argument("--names", nargs="+", default=[])
    parser.add_argument("--seconds", type=float, default=10)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seed", type=int, default=0)
    chosen = parser.parse_args()
    if chosen.set == "jobshops":
        instances = jobshops(chosen.source, chosen.names)
    else:
        instances = {"setups": setups, "lateness": lateness}[chosen.set](chosen.source, chosen.numbers)
    print(HEAD)
    gaps = []
    for instance in instances:
        line, gap = measured(instance, chosen.seconds, chosen.workers, chosen.seed)
        gaps.append(gap)
        print(line, flush=True)
    print(
        f"{len(gaps)} instances: mean gap {mean(gaps):.2f} %, largest {max(gaps):.2f} %, {_met(gaps)} at the best known"
    )


def _met(gaps: Sequence[float]) -> int:
    return sum(gap < 0.005 for gap in gaps)


if __name__ == "__main__":
    main()
