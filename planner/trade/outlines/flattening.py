"""SVG shapes to points: curves become chords that lie no farther than a thousandth of an inch from them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import StringIO
from math import acos, ceil, hypot, pi, sqrt
from typing import Any, NamedTuple

from svgelements import SVG, Arc, Close, Linear, Move, Path, Shape

from planner.errors import OutlineError
from planner.trade.outlines.gate import MOST_STROKES

PX_PER_INCH = 96
CHORD_ERROR_PX = 0.001 * PX_PER_INCH
MOST_CHORDS = 400
MOST_POINTS = 40_000
JOINED_IN = 0.01
"""Ends as near as this were meant to meet."""


class Stroke(NamedTuple):
    """One run of the pen in inches, y up, and whether it comes back to where it began."""

    points: tuple[tuple[float, float], ...]
    is_closed: bool


def strokes_of(svg_text: str) -> tuple[Stroke, ...]:
    """Every stroke of a drawing that came through the gate.

    Raises OutlineError where a path can't be read, and for more strokes or points than an outline needs, before any
    point is made.
    """
    try:
        drawing = SVG.parse(StringIO(svg_text), ppi=PX_PER_INCH, reify=True)
        paths = [abs(Path(shape)) for shape in drawing.elements() if isinstance(shape, Shape)]
        _check_count(paths)
        return tuple(stroke for path in paths for stroke in _strokes(path))
    except OutlineError:
        raise
    except (ValueError, TypeError, IndexError, AttributeError, ZeroDivisionError, OverflowError) as error:
        raise OutlineError("The drawing has a path that makes no sense; draw the outline anew.") from error


def _check_count(paths: Sequence[Path]) -> None:
    strokes = points = 0
    for path in paths:
        strokes += sum(isinstance(segment, Move) for segment in path)
        if strokes > MOST_STROKES:
            raise OutlineError(
                f"The drawing has more than {MOST_STROKES} shapes and lines; keep the outline and a few."
            )
        points += sum(_chords(segment) for segment in path)
        if points > MOST_POINTS:
            raise OutlineError(f"The drawing has more than {MOST_POINTS} points; simplify its outline.")


def _strokes(path: Path) -> Iterator[Stroke]:
    points: list[tuple[float, float]] = []
    is_closed = False
    for segment in path:
        if isinstance(segment, Move):
            yield from _stroke(points, is_closed)
            points, is_closed = [_xy(segment.end)], False
        elif isinstance(segment, Close):
            is_closed = True
        else:
            points += _flattened(segment)
    yield from _stroke(points, is_closed)


def _stroke(points: list[tuple[float, float]], is_closed: bool) -> Iterator[Stroke]:
    if len(points) < 2:
        return
    (x1, y1), (x2, y2) = points[0], points[-1]
    meets = len(points) > 3 and hypot(x2 - x1, y2 - y1) <= JOINED_IN
    yield Stroke(tuple(points), is_closed or meets)


def _flattened(segment: Any) -> list[tuple[float, float]]:
    chords = _chords(segment)
    return [_xy(segment.point(n / chords)) for n in range(1, chords)] + [_xy(segment.end)]


def _chords(segment: Any) -> int:
    """As many as keep every chord near its curve, 1 for what is straight."""
    return 1 if isinstance(segment, Linear | Move) else min(MOST_CHORDS, max(2, _chords_of_a_curve(segment)))


def _chords_of_a_curve(segment: Any) -> int:
    """By an arc's larger radius, or by a Bézier's second differences."""
    if isinstance(segment, Arc):
        radius = max(abs(segment.rx), abs(segment.ry), CHORD_ERROR_PX)
        step = 2 * acos(max(-1.0, 1 - CHORD_ERROR_PX / radius))
        return ceil(min(abs(float(segment.sweep)), 2 * pi) / step) if step else MOST_CHORDS
    controls = [
        segment.start,
        *(getattr(segment, name) for name in ("control", "control1", "control2") if getattr(segment, name, None)),
        segment.end,
    ]
    degree = len(controls) - 1
    bends = [
        hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y)
        for a, b, c in zip(controls, controls[1:], controls[2:], strict=False)
    ]
    return ceil(sqrt(degree * (degree - 1) / 8 * max(bends, default=0.0) / CHORD_ERROR_PX))


def _xy(point: Any) -> tuple[float, float]:
    return float(point.x) / PX_PER_INCH, -float(point.y) / PX_PER_INCH
