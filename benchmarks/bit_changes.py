"""How often the router's bit is changed by a plan, against first come, first served.

    python benchmarks/bit_changes.py problem.json plan.json

Both are counted over the same work: what has not begun. First come, first served puts every piece on the bed on its
own, in the order in which the orders were placed, with its bits in the order of its passes; a bit that is in the
spindle already is no change there either.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

USAGE = "python benchmarks/bit_changes.py problem.json plan.json"


class Changes(NamedTuple):
    """Bit changes of a plan: while a load lies on the bed, and from one load to the next."""

    inside: int
    between: int


def changes_of_plan(problem: dict, plan: dict) -> Changes:
    """Counted from the loads as they follow each other on each router."""
    placed = {each["step"]: each for each in plan["placed"]}
    spindles = _spindles(problem)
    inside = between = 0
    for load in sorted(_loads(problem), key=lambda load: placed[load["id"]]["start"]):
        where, bits = placed[load["id"]], load["about"]["bits"]
        router = next(station for station in where["stations"] if station in spindles)
        if not load["begun"]:
            inside += len(bits) - 1
            between += spindles[router] not in {None, bits[0]}
        if where["end"] > problem["now"]:  # what is over has left its bit in `start_state`
            spindles[router] = bits[-1]
    return Changes(inside, between)


def changes_first_come(problem: dict) -> int:
    """Every piece on its own, in order of placing."""
    in_spindle = [bit for bit in _spindles(problem).values() if bit][:1]
    bits = [*in_spindle, *(bit for piece in _pieces_as_placed(problem) for bit in piece)]
    return sum(before != after for before, after in pairwise(bits))


def _pieces_as_placed(problem: dict) -> Iterator[list[str]]:
    """For each piece that is still to be routed the bits of all its visits; pieces are numbered as they were placed."""
    visits: dict[str, list[list[str]]] = {}
    for load in _loads(problem):
        for piece, bits in load["about"]["bits_of"].items() if not load["begun"] else ():
            visits.setdefault(piece, []).append(bits)
    for piece in sorted(visits, key=lambda each: int(each.removeprefix("p"))):
        yield [bit for bits in visits[piece] for bit in bits]


def _loads(problem: dict) -> list[dict]:
    """Bed loads, the main ones before the carvings."""
    loads = [step for step in problem["steps"] if step["about"].get("bits")]
    return sorted(loads, key=lambda load: load["about"]["kind"] != "router")


def _spindles(problem: dict) -> dict[str, str | None]:
    used = {station for step in _loads(problem) for need in step["stations"] for station in need["any_of"]}
    return {station["id"]: station["start_state"] for station in problem["stations"] if station["id"] in used}


def main(words: list[str]) -> None:
    if len(words) != 2:
        sys.exit(USAGE)
    problem, plan = (json.loads(Path(word).read_text()) for word in words)
    ours, theirs = changes_of_plan(problem, plan), changes_first_come(problem)
    loads = [step for step in _loads(problem) if not step["begun"]]
    pieces = {piece for step in loads for piece in step["about"]["bits_of"]}
    print(f"{len(pieces)} pieces in {len(loads)} bed loads")
    print(f"planned: {sum(ours)} bit changes, {ours.inside} inside loads and {ours.between} between loads")
    print(f"first come, first served: {theirs}; the plan has {sum(ours) / theirs:.0%} of that")


if __name__ == "__main__":
    main(sys.argv[1:])
