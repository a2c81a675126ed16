"""How long the router's minutes take to work out, for outlines of many points.

    python -m benchmarks.cutting --points 2000

Round, wavy and jagged pockets about 16 in across; 3/4 in bowl bit, 0.4 in deep, at several step-overs.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from math import cos, pi, sin
from random import Random
from time import perf_counter

from shapely import Polygon

from planner.trade.cutting import Cutter, Machine, Workpiece, routed

RADIUS_IN = 8.0
STEP_OVERS = (0.4, 0.1, 0.05)
Radius = Callable[[float], float]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--points", type=int, default=2000)
    points = parser.parse_args().points
    jagged = Random(1)  # noqa: S311 - a repeatable outline
    shapes: dict[str, Radius] = {
        "round": lambda _: 1.0,
        "12 waves": lambda turn: 1 + 0.1 * sin(12 * turn),
        "40 waves": lambda turn: 1 + 0.05 * sin(40 * turn),
        "200 waves": lambda turn: 1 + 0.03 * sin(200 * turn),
        "jagged": lambda _: 1 - 0.1 * jagged.random(),
    }
    print("pocket     step-over  minutes  seconds")
    for name, radius in shapes.items():
        pocket = _pocket(points, radius)
        piece = Workpiece(pocket.buffer(1), 0.75, (pocket,))
        for step_over in STEP_OVERS:
            began = perf_counter()
            done = routed("pocket", piece, Cutter("bowl", 0.75), Machine(), depth_in=0.4, step_over=step_over)
            print(f"{name:10} {step_over:8.0%} {done.minutes:9.1f} {perf_counter() - began:8.2f}", flush=True)


def _pocket(points: int, radius: Radius) -> Polygon:
    turns = (2 * pi * n / points for n in range(points))
    return Polygon([(RADIUS_IN * r * cos(turn), RADIUS_IN * r * sin(turn)) for turn in turns for r in [radius(turn)]])


if __name__ == "__main__":
    main()
