"""Textbook scheduling problems said in the plan exchange: machines are stations, jobs are chains of steps."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

from planner import Link, Order, Plan, Prices, Problem, Station, problem_from_json, problem_to_json, solve
from tests.planner.makers import make_problem, make_step

MINUTES = Prices(makespan_hour=60)  # a minute of makespan costs 1
Job = Sequence[tuple[int, int]]


def job_shops() -> dict[str, list[Job]]:
    """The instances of jobshops.txt by name; an operation is (machine, minutes)."""
    shops: dict[str, list[Job]] = {}
    for line in (Path(__file__).parent / "jobshops.txt").read_text().splitlines():
        if line.startswith("["):
            jobs = shops.setdefault(line.strip("[]"), [])
        elif line and not line.startswith("#"):
            numbers = [int(number) for number in line.split()]
            jobs.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return shops


def job_shop(jobs: Sequence[Job]) -> Problem:
    """Each machine does one operation at a time, day and night; what counts is when the last ends."""
    machines = sorted({machine for job in jobs for machine, _ in job})
    steps, links = [], []
    for number, job in enumerate(jobs):
        names = [f"job{number}.{place}" for place in range(len(job))]
        steps += [
            make_step(name, minutes, "alone", at=[f"m{machine}"])
            for name, (machine, minutes) in zip(names, job, strict=True)
        ]
        links += [Link(*pair) for pair in pairwise(names)]
    stations = [Station(f"m{machine}") for machine in machines]
    return make_problem(*steps, now=0, people=(), stations=stations, links=links, prices=MINUTES)


def one_machine(minutes: Sequence[int], orders: Sequence[Order], prices: Prices) -> Problem:
    """Jobs 1, 2, ... on one machine, each with an order of its own."""
    steps = [make_step(str(number), length, "alone", at=["m"]) for number, length in enumerate(minutes, start=1)]
    return make_problem(*steps, now=0, people=(), stations=[Station("m")], orders=orders, prices=prices)


def solved_through_the_exchange(problem: Problem, seconds: float = 60) -> Plan:
    """Written as a document, read back, solved."""
    return solve(problem_from_json(problem_to_json(problem)), seconds=seconds)
