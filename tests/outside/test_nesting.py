"""Nests against sets whose perfect packing is known, against a general-purpose packing library and closed forms."""

from math import pi, sqrt

import pytest
import rectpack

from planner.layout.nest_rules import broken_nest_rules
from planner.layout.nesting import nest
from planner.layout.panels import Turns
from planner.layout.rows import round_rows
from tests.planner.layout.makers import bare_rules, chance, cut_up, make_pieces, make_stock

PANEL = (48.0, 24.0)
SETS = [(count, seed, grid_in) for count in (10, 20, 30, 40) for seed in (1, 2, 3) for grid_in in (0, 1 / 16)]
LIBRARY = [
    rectpack.MaxRectsBssf,
    rectpack.MaxRectsBaf,
    rectpack.MaxRectsBl,
    rectpack.SkylineMwfl,
    rectpack.SkylineBl,
    rectpack.GuillotineBssfSas,
]


def first_panel_yield(parts, turns):
    pieces = make_pieces(*parts, turns=turns)
    rules = bare_rules(*PANEL)
    found = nest(pieces, rules, panels=make_stock(*PANEL), tries=150)
    assert broken_nest_rules(pieces, rules, found) == ()
    return found.panels[0].yield_fraction


def librarys_yield(parts, turns):
    """The best that any of the library's algorithms puts into its first bin."""
    best = 0
    for algorithm in LIBRARY:
        packer = rectpack.newPacker(rotation=turns is Turns.QUARTERS, pack_algo=algorithm)
        for part in parts:
            packer.add_rect(*part)
        packer.add_bin(*PANEL)
        packer.pack()
        best = max(best, sum(rect.width * rect.height for rect in packer[0]))
    return best / (PANEL[0] * PANEL[1])


@pytest.fixture(scope="module", params=[Turns.HALF, Turns.QUARTERS])
def yields(request):
    """For each set: our yield of the first panel, and the library's."""
    pairs = []
    for count, seed, grid_in in SETS:
        rng = chance(1000 * count + seed)
        parts = cut_up(rng, *PANEL, count, grid_in)
        if request.param is Turns.QUARTERS:
            parts = [part if rng.random() < 0.5 else part[::-1] for part in parts]
        pairs.append((first_panel_yield(parts, request.param), librarys_yield(parts, request.param)))
    return pairs


@pytest.mark.source("seeded sets cut from a full panel: yield 1 by construction")
def test_the_first_panel_is_used_to_92_percent_or_more_on_average(yields):
    ours = [our for our, _ in yields]
    assert sum(ours) / len(ours) >= 0.92
    assert max(ours) <= 1 + 1e-9


@pytest.mark.source("rectpack, a general-purpose rectangle packing library, best of six of its algorithms")
def test_never_worse_on_average_than_a_general_purpose_library(yields):
    assert sum(our for our, _ in yields) >= sum(librarys for _, librarys in yields)


@pytest.mark.source("closed form: n hexagonal rows of rounds are d + (n - 1) d √3 / 2 high")
@pytest.mark.parametrize("rows", [2, 3, 4, 7])
@pytest.mark.parametrize("diameter", [1.0, 3.75])
def test_hexagonal_rows_are_as_high_as_the_closed_form_says(rows, diameter):
    height = diameter + (rows - 1) * diameter * sqrt(3) / 2
    zone_length = 8.5 * diameter  # so that every row is full
    held = round_rows(diameter, (zone_length, height), 8 * rows)
    assert len(held) == 8 * rows
    assert max(y for _, y in held) + diameter == pytest.approx(height)
    assert len(round_rows(diameter, (zone_length, height * (1 - 1e-4)), 99)) < 8 * rows


@pytest.mark.source("A. Thue 1910: no packing of equal circles is denser than π / √12")
def test_many_rounds_come_near_to_the_densest_packing_and_never_above():
    densest = pi / sqrt(12)
    shares = [len(round_rows(1.0, (side, side), 100_000)) * pi / 4 / side**2 for side in (10.0, 30.0, 60.0)]
    assert shares == sorted(shares)
    assert densest * 0.975 < shares[-1] <= densest
