"""Plots as SVG in ink: curves over a number, bars by name. Words and a table beside each say the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

WIDTH, HEIGHT = 640, 260
LEFT, RIGHT, TOP, LOW = 64, 16, 16, 44
BAR, GAP = 34, 8
BAR_LEFT = 240


@dataclass(frozen=True, slots=True)
class Tick:
    """A place on an axis, in drawing units, and what stands there."""

    at: float
    word: str


@dataclass(frozen=True, slots=True)
class Line:
    """One curve: its name, its path, a dash pattern that tells it apart in grey, and where its name stands."""

    name: str
    path: str
    dash: str
    end: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Curves:
    """Curves over one axis from 0 up, and a mark where one value is picked out."""

    x_label: str
    y_label: str
    lines: tuple[Line, ...]
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    mark: float | None = None

    frame = f"0 0 {WIDTH} {HEIGHT}"
    left, right, top, floor = LEFT, WIDTH - RIGHT, TOP, HEIGHT - LOW


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar from the line of 0: its name, its place, and the word at its end."""

    name: str
    y: int
    x: float
    length: float
    word: str
    word_x: float
    is_below: bool


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars by name under one another, the line of 0 and a line to compare with."""

    bars: tuple[Bar, ...]
    zero: float
    wanted: float | None

    @property
    def height(self) -> int:
        return len(self.bars) * (BAR + GAP) + GAP

    @property
    def frame(self) -> str:
        return f"0 0 {WIDTH} {self.height}"


DASHES = ("", "10 5", "2 4", "12 4 2 4")


def curves(
    series: Sequence[tuple[str, Sequence[tuple[float, float]]]],
    *,
    x_label: str,
    y_label: str,
    mark: float | None = None,
) -> Curves:
    """`series` are names with their points (x, y), y from 0 up, at least two points in all."""
    xs = [x for _, points in series for x, _ in points]
    ys = [y for _, points in series for _, y in points]
    x_low, x_high = min(xs), max(xs)
    y_high = max([*ys, 1e-9])

    def place(x: float, y: float) -> tuple[float, float]:
        across = (x - x_low) / ((x_high - x_low) or 1)
        return (
            round(LEFT + across * (WIDTH - LEFT - RIGHT), 1),
            round(HEIGHT - LOW - y / y_high * (HEIGHT - LOW - TOP), 1),
        )

    lines = tuple(
        Line(name, "M" + "L".join("{:g} {:g}".format(*place(*point)) for point in points), dash, place(*points[-1]))
        for (name, points), dash in zip(series, DASHES, strict=False)
    )
    return Curves(
        x_label,
        y_label,
        lines,
        tuple(Tick(place(value, 0)[0], f"{value:g}") for value in _round_values(x_low, x_high)),
        tuple(Tick(place(x_low, value)[1], f"{value:g}") for value in _round_values(0, y_high)),
        None if mark is None else place(mark, 0)[0],
    )


def bars(values: Sequence[tuple[str, float, str]], *, wanted: float | None = None) -> Bars:
    """`values` are names with a number and the word for it; numbers may lie below 0."""
    numbers = [0.0, *[number for _, number, _ in values], *([] if wanted is None else [wanted])]
    low, high = min(numbers), max(numbers)
    a_unit = (WIDTH - BAR_LEFT - 90) / ((high - low) or 1)
    zero = BAR_LEFT - low * a_unit
    drawn = []
    for place, (name, number, word) in enumerate(values):
        length = abs(number) * a_unit
        x = zero if number >= 0 else zero - length
        drawn.append(
            Bar(
                name,
                GAP + place * (BAR + GAP),
                round(x, 1),
                round(length, 1),
                word,
                round(max(zero, x + length) + 8, 1),
                number < 0,
            )
        )
    return Bars(tuple(drawn), round(zero, 1), None if wanted is None else round(zero + wanted * a_unit, 1))


def _round_values(low: float, high: float, about: int = 5) -> list[float]:
    """About so many round numbers from `low` to `high`."""
    if high <= low:
        return [low]
    rough = (high - low) / about
    power = 10.0 ** floor(log10(rough))
    step = next(power * factor for factor in (1, 2, 2.5, 5, 10) if power * factor >= rough)
    first = ceil(low / step - 1e-9)
    return [round(n * step, 10) for n in range(first, floor(high / step + 1e-9) + 1)]
