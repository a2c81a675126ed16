"""Free outlines of the demo's designs: points from 0 to 1 of length and width."""

from __future__ import annotations

Point = tuple[float, float]
Points = list[list[float]]


def _points(text: str) -> list[Point]:
    """ "0 .5, .1 .7" as points."""
    return [(float(x), float(y)) for x, y in (pair.split() for pair in text.split(","))]


# The half above the middle line, from one end to the other.
FISH = _points(
    "0 .5, .05 .68, .14 .84, .27 .96, .4 1, .52 .95, .64 .8, .76 .66, .82 .66, .92 .84, 1 .94, .94 .5",
)
LEAF = _points("0 .5, .08 .6, .2 .83, .35 .97, .5 1, .65 .93, .8 .77, .92 .58, 1 .5")
HEART = _points("0 .5, .15 .68, .35 .88, .55 .99, .72 1, .87 .94, .97 .82, 1 .69, .97 .58, .88 .5")
# The right half, from the top of the middle to its foot.
GULL = _points(
    ".5 .64, .58 .78, .68 .93, .78 1, .88 .94, .96 .78, 1 .52, .92 .5, .83 .45, .74 .36, .66 .22, .58 .08, .5 0",
)


def fish() -> Points:
    return _smooth(_lengthwise(FISH))


def leaf() -> Points:
    return _smooth(_lengthwise(LEAF))


def heart() -> Points:
    return _smooth(_lengthwise(HEART))


def gull() -> Points:
    return _smooth([*GULL, *[(1 - x, y) for x, y in reversed(GULL) if x != 0.5]])


def _lengthwise(upper: list[Point]) -> list[Point]:
    return [*upper, *[(x, 1 - y) for x, y in reversed(upper) if y != 0.5]]


def _smooth(points: list[Point]) -> Points:
    """Corners cut twice (Chaikin), then spread over the whole of length and width again."""
    for _ in range(2):
        points = [cut for a, b in zip(points, points[1:] + points[:1], strict=True) for cut in _cut(a, b)]
    xs, ys = [_spread([point[axis] for point in points]) for axis in (0, 1)]
    return [list(point) for point in zip(xs, ys, strict=True)]


def _cut(a: Point, b: Point) -> tuple[Point, Point]:
    nearer = (a[0] * 0.75 + b[0] * 0.25, a[1] * 0.75 + b[1] * 0.25)
    farther = (a[0] * 0.25 + b[0] * 0.75, a[1] * 0.25 + b[1] * 0.75)
    return nearer, farther


def _spread(values: list[float]) -> list[float]:
    least, most = min(values), max(values)
    return [round((value - least) / (most - least), 4) for value in values]
