from math import cos, pi, sin
from random import Random

from shapely import Point, Polygon, box

from planner.layout.panels import NestPiece, PanelRules, PanelSize, PanelStock, Turns

HEART = Polygon(
    [
        (5 * sin(t) ** 3, (13 * cos(t) - 5 * cos(2 * t) - 2 * cos(3 * t) - cos(4 * t)) * 5 / 16)
        for t in (2 * pi * n / 120 for n in range(120))
    ]
)
TRIANGLE = Polygon([(0, 0), (10, 0), (5, 8)])
ANGLE = Polygon([(0, 0), (10, 0), (10, 3), (3, 3), (3, 8), (0, 8)])


def circle(diameter_in):
    return Point(0, 0).buffer(diameter_in / 2, quad_segs=16)


def make_pieces(*outlines, turns=Turns.HALF, name="Gull tray"):
    """A piece for each outline; a pair of numbers is a rectangle."""
    shapes = [box(0, 0, *outline) if isinstance(outline, tuple) else outline for outline in outlines]
    return [NestPiece(f"p{n}", name, shape, turns) for n, shape in enumerate(shapes, start=1)]


def make_rules(*, gap=0.375, edge=0.5, screws=1.0, planer=13.0, bed=(48.0, 24.0)):
    return PanelRules(gap * 2 / 3, gap / 3, edge, screws, planer, *bed)


def bare_rules(length_in, width_in):
    """Nothing between pieces and nothing at the edges."""
    return make_rules(gap=0, edge=0, screws=0, planer=width_in, bed=(length_in, width_in))


def make_stock(length_in=48.0, width_in=13.0, count=99):
    return [PanelStock(PanelSize(length_in, width_in), count)]


def chance(seed):
    return Random(seed)  # noqa: S311 - repeatable tests


def cut_up(rng, length_in, width_in, count, grid_in=0.0):
    """A full panel cut into so many rectangles, always straight through a part."""
    parts = [(length_in, width_in)]
    while len(parts) < count:
        at = rng.choices(range(len(parts)), [length * width for length, width in parts])[0]
        length, width = parts[at]
        along = rng.random() < length / (length + width)
        side = length if along else width
        cut = rng.uniform(0.2, 0.8) * side
        if grid_in:
            cut = round(cut / grid_in) * grid_in
        if 0 < cut < side:
            parts[at : at + 1] = [(cut, width), (side - cut, width)] if along else [(length, cut), (length, side - cut)]
    rng.shuffle(parts)
    return parts
