"""SVG shapes to points: curves become chords that lie no farther than a thousandth of an inch from them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from io import StringIO
from math import acos, ceil, hypot, pi, sqrt
from typing import Any

import numpy as np
from svgelements import SVG, Arc, Close, Line, Move, Path, Shape

from planner.errors import OutlineError

PX_PER_INCH = 96
CHORD_ERROR_PX = 0.001 * PX_PER_INCH
MOST_CHORDS = 400
JOINED_IN = 0.01
"""Ends as near as this were meant to meet."""


@dataclass(frozen=True)
class Stroke:
    """One run of the pen: where it begins, its lines and curves, how many points they make, and whether it comes back
    to where it began. The points are made when they are asked for, so that they are counted first."""

    start: Any
    segments: tuple[Any, ...]
    count: int
    is_closed: bool

    @cached_property
    def points(self) -> tuple[tuple[float, float], ...]:
        """In inches, y up."""
        return (_xy(self.start), *(point for segment in self.segments for point in _flattened(segment)))


def strokes_of(svg_text: str) -> tuple[Stroke, ...]:
    """Every stroke of a drawing that came through the gate. Raises OutlineError where a path can't be read."""
    try:
        drawing = SVG.parse(StringIO(svg_text), ppi=PX_PER_INCH, reify=True)
        shapes = [abs(Path(shape)) for shape in drawing.elements() if isinstance(shape, Shape)]
        return tuple(stroke for path in shapes for stroke in _strokes(path))
    except (ValueError, TypeError, IndexError, AttributeError, ZeroDivisionError, OverflowError) as error:
        raise OutlineError("The drawing has a path that makes no sense; draw the outline anew.") from error


def _strokes(path: Path) -> Iterator[Stroke]:
    """After it is closed, a path goes on from where it began."""
    start: Any = None
    segments: list[Any] = []
    for segment in path:
        if isinstance(segment, Move | Close):
            yield from _stroke(start, segments, is_closed=isinstance(segment, Close))
            start, segments = segment.end, []
        else:
            segments.append(segment)
    yield from _stroke(start, segments, is_closed=False)


def _stroke(start: Any, segments: list[Any], *, is_closed: bool) -> Iterator[Stroke]:
    if start is None or not segments:
        return
    count = 1 + sum(_steps(segment) for segment in segments)
    (x1, y1), (x2, y2) = _xy(start), _xy(segments[-1].end)
    meets = count > 3 and hypot(x2 - x1, y2 - y1) <= JOINED_IN
    yield Stroke(start, tuple(segments), count, is_closed or meets)


def _flattened(segment: Any) -> list[tuple[float, float]]:
    steps = _steps(segment)
    if steps == 1:
        return [_xy(segment.end)]
    inner = segment.npoint(np.arange(1, steps) / steps)
    return [(float(x) / PX_PER_INCH, -float(y) / PX_PER_INCH) for x, y in inner] + [_xy(segment.end)]


def _steps(segment: Any) -> int:
    return 1 if isinstance(segment, Line) else min(MOST_CHORDS, max(2, _chords(segment)))


def _chords(segment: Any) -> int:
    """As many as keep every chord near its curve: by the arc's larger radius, or a Bézier's second differences."""
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
