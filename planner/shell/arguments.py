"""The words of the command line, each checked before anything is read."""

from __future__ import annotations

import argparse
import math
from collections.abc import Callable
from typing import NoReturn

SECONDS = 10.0
SECONDS_WITH_ITERATIONS = 24 * 3600.0  # a search that ends after its iterations does not end by the clock
MOST_SECONDS = 7 * 24 * 3600
MOST_WORKERS = 64
MOST_COUNT = 1_000_000_000


class Parser(argparse.ArgumentParser):
    """Refuses in one line, as the documents are refused."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message} ({self.prog} --help says what there is)\n")


def number(least: float, most: float) -> Callable[[str], float]:
    """A reader of numbers within bounds."""

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not least <= value <= most:
            raise argparse.ArgumentTypeError(f"a number from {least:g} to {most:g} is needed, not {text}")
        return value

    return read


def whole(least: int, most: int = MOST_COUNT) -> Callable[[str], int]:
    """A reader of whole numbers within bounds."""

    def read(text: str) -> int:
        digits = text.removeprefix("-")
        value = int(text) if digits.isdecimal() and len(digits) < 20 else None
        if value is None or not least <= value <= most:
            raise argparse.ArgumentTypeError(f"a whole number from {least:,} to {most:,} is needed, not {text}")
        return value

    return read


def read_arguments(arguments: list[str] | None) -> argparse.Namespace:
    """What was asked for; ends the program with status 2 and one line where it makes no sense."""
    parser = Parser(prog="python -m planner", description="Plan a workshop's steps, or judge a plan.")
    commands = parser.add_subparsers(required=True, metavar="solve|check|compare|prepare", dest="command")
    _add_solve(commands.add_parser("solve", help="read a problem, write a plan"))
    checking = commands.add_parser("check", help="say which rules a plan breaks and what it costs")
    _add_problem(checking)
    checking.add_argument("plan", help="the plan document, - for standard input")
    comparing = commands.add_parser("compare", help="the engine beside simpler planners, same seconds, same workers")
    _add_problem(comparing)
    _add_effort(comparing)
    commands.add_parser("prepare", help="compile the search once, so that no search has to")
    chosen = parser.parse_args(arguments)
    if chosen.command == "check" and chosen.problem == chosen.plan == "-":
        parser.error("only one of the documents can come from standard input")
    if chosen.command == "solve":
        _settle_solve(parser, chosen)
    return chosen


def _settle_solve(parser: Parser, chosen: argparse.Namespace) -> None:
    if chosen.problem == chosen.from_plan == "-":
        parser.error("only one of the documents can come from standard input")
    if chosen.from_plan is None and (chosen.frozen_minutes or chosen.move_price):
        parser.error("--frozen-minutes and --move-price are about the plan that --from names")
    if chosen.seconds is None:
        chosen.seconds = SECONDS if chosen.iterations is None else SECONDS_WITH_ITERATIONS


def _add_problem(command: argparse.ArgumentParser) -> None:
    command.add_argument("problem", help="the problem document, - for standard input")


def _add_effort(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--seconds", type=number(0, MOST_SECONDS), default=SECONDS, help="how long to search (10); 0: the list rule"
    )
    command.add_argument("--workers", type=whole(1, MOST_WORKERS), default=2, help="how many threads may search (2)")
    command.add_argument("--seed", type=whole(0), default=0, help="the same seed gives the same choices")


def _add_solve(command: argparse.ArgumentParser) -> None:
    _add_problem(command)
    command.add_argument("-o", "--output", default="-", help="where the plan is written, - for standard output")
    _add_effort(command)
    command.set_defaults(seconds=None)
    command.add_argument("--from", dest="from_plan", metavar="PLAN", help="the plan in force, to begin from")
    command.add_argument(
        "--frozen-minutes",
        type=whole(0),
        default=0,
        metavar="N",
        help="what starts in the plan in force before now + N stays where it is, as far as the rules allow",
    )
    command.add_argument(
        "--move-price",
        type=number(0, 1e9),
        default=0.0,
        metavar="X",
        help="what moving another step of the plan in force costs the search; no part of the cost that is told",
    )
    command.add_argument(
        "--iterations",
        type=whole(0),
        metavar="N",
        help="end after so many iterations; with --workers 1 and a seed always the same plan",
    )
    command.add_argument(
        "--gap", type=number(0, 100), default=0.0, metavar="PERCENT", help="end when proved to be so near the best"
    )
