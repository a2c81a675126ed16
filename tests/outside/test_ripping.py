"""Cutting stock and rip plans, against textbook examples and against optima that a plain exact model proves."""

from itertools import pairwise
from math import ceil
from random import Random

import pytest

from planner.layout.cutting.strips import StockLength, StripWanted, cut_strips
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.ripping import rip_plan

ASSIGNMENT = pytest.mark.source("a plain assignment model, proved by CP-SAT (strips to bars, written in the test)")
DUALS = pytest.mark.source("linear programming duality (Gilmore and Gomory, 1961)")
CHVATAL = pytest.mark.source("Chvátal, Linear Programming, 1983, ch. 13: rolls of 100 in (from memory)")
WINSTON = pytest.mark.source("Winston, Operations Research: 17-ft boards into 3, 5 and 9 ft (from memory)")


def strips(wanted):
    return [StripWanted(length, count) for length, count in wanted.items()]


@CHVATAL
def test_rolls_of_100_inches_into_45_36_31_and_14():
    plan = cut_strips(strips({45: 97, 36: 610, 31: 395, 14: 211}), [StockLength(100)], 0)
    assert len(plan.bars) == plan.bound == ceil(452.25)


@DUALS
def test_worths_that_over_fill_no_roll_prove_that_452_rolls_are_too_few():
    worth, wanted = {45: 1 / 2, 36: 1 / 2, 31: 1 / 4, 14: 0}, {45: 97, 36: 610, 31: 395, 14: 211}
    for row in patterns_of(list(worth), 100):
        assert sum(map(float.__mul__, map(float, row), map(float, worth.values()))) <= 1
    assert sum(worth[size] * count for size, count in wanted.items()) == 452.25


@WINSTON
def test_17_foot_boards_into_25_of_3_feet_20_of_5_and_15_of_9():
    plan = cut_strips(strips({36: 25, 60: 20, 108: 15}), [StockLength(17 * 12)], 0)
    assert len(plan.bars) == plan.bound == fewest_boards_by_patterns(17, {3: 25, 5: 20, 9: 15})


def patterns_of(sizes, room):
    """How often each size, in every way that fits."""
    patterns = [()]
    for size in sizes:
        patterns = [(*row, n) for row in patterns for n in range(room // size + 1)]
    return [row for row in patterns if sum(map(int.__mul__, row, sizes)) <= room]


def fewest_boards_by_patterns(room, wanted):
    """Every pattern by trying, then a whole number of each by CP-SAT: an independent exact model."""
    from ortools.sat.python import cp_model

    sizes = list(wanted)
    patterns = patterns_of(sizes, room)
    model = cp_model.CpModel()
    times = [model.new_int_var(0, 200, "") for _ in patterns]
    for place, size in enumerate(sizes):
        model.add(sum(row[place] * time for row, time in zip(patterns, times, strict=True)) >= wanted[size])
    model.minimize(sum(times))
    solver = cp_model.CpSolver()
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def least_opened(sizes, bars, kerf, seconds=10):
    """Strips to bars by CP-SAT, nothing else thought of: (least opened, what is proved of it), all in whole units."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    into = [[model.new_bool_var("") for _ in bars] for _ in sizes]
    opened = [model.new_bool_var("") for _ in bars]
    for row in into:
        model.add_exactly_one(row)
    for place, length in enumerate(bars):
        taken = sum((size + kerf) * row[place] for size, row in zip(sizes, into, strict=True))
        model.add(taken <= (length + kerf) * opened[place])
        if place and bars[place - 1] == length:
            model.add_implication(opened[place], opened[place - 1])
    model.minimize(sum(length * var for length, var in zip(bars, opened, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 8
    assert solver.solve(model) in {cp_model.OPTIMAL, cp_model.FEASIBLE}
    return round(solver.objective_value), round(solver.best_objective_bound)


def seeded(seed, most):
    """Strips in quarter inches for bars of one length or two, a kerf of a quarter inch."""
    rng = Random(seed)  # noqa: S311
    sizes = [rng.randint(10, 60) for _ in range(rng.randint(most // 3, most))]
    return sizes, rng.choice([[97], [120], [120, 170], [150]])


@ASSIGNMENT
@pytest.mark.parametrize("seed", range(12))
def test_up_to_30_strips_a_plan_is_as_good_as_the_best(seed):
    sizes, lengths = seeded(seed, 30)
    plan = cut_strips([StripWanted(size / 4) for size in sizes], [StockLength(each / 4) for each in lengths], 0.25)
    assert plan.is_proved
    copies = {each: ceil(plan.opened_in * 4 / each) for each in lengths}
    best, proved = least_opened(sizes, [each for each in lengths for _ in range(copies[each])], 1)
    assert proved <= plan.opened_in * 4 <= best
    assert plan.opened_in * 4 == best or proved < best


@ASSIGNMENT
def test_up_to_200_strips_plans_are_within_1_percent_of_a_bound_worked_out_by_hand():
    """The bound: all strips and kerfs laid end to end, in whole bars; or a bar for each strip over half of one."""
    gaps = []
    for seed in range(6):
        sizes, (length, *_) = seeded(100 + seed, 200)
        plan = cut_strips([StripWanted(size / 4) for size in sizes], [StockLength(length / 4)], 0.25, seconds=5)
        end_to_end = ceil(sum(size + 1 for size in sizes) / (length + 1))
        large = sum(2 * (size + 1) > length + 1 for size in sizes)
        gaps.append(len(plan.bars) / max(end_to_end, large) - 1)
    assert sum(gaps) / len(gaps) < 0.01


def fewest_boards(pieces, board, copies, kerf):
    """Two-stage sawing as an assignment: pieces to sections, sections to boards, all in whole units."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    slots = board[0] // min(length for length, _ in pieces)
    opened = [model.new_bool_var("") for _ in range(copies)]
    into = [[] for _ in pieces]
    for used in opened:
        longs = []
        for _ in range(slots):
            long = model.new_int_var(0, board[0] + kerf, "")
            row = [model.new_bool_var("") for _ in pieces]
            for piece, (length, _) in enumerate(pieces):
                model.add(long >= length + kerf).only_enforce_if(row[piece])
                into[piece].append(row[piece])
            model.add(sum((width + kerf) * var for (_, width), var in zip(pieces, row, strict=True)) <= board[1] + kerf)
            longs.append(long)
        model.add(sum(longs) <= (board[0] + kerf) * used)
    for row in into:
        model.add_exactly_one(row)
    for one, other in pairwise(opened):
        model.add_implication(other, one)
    model.minimize(sum(opened))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 20
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.source("a plain two-stage assignment model, proved by CP-SAT (written in the test)")
@pytest.mark.parametrize("seed", range(5))
def test_a_small_rip_plan_opens_as_few_boards_as_the_best(seed):
    rng = Random(seed)  # noqa: S311
    pieces = [(rng.choice([60, 80, 96]), rng.randint(10, 30)) for _ in range(rng.randint(5, 9))]
    panels = [PanelWanted(f"p{n}", x / 4, y / 4, 0.75, "ash", strips=1) for n, (x, y) in enumerate(pieces)]
    allowances = RipAllowances(kerf_in=0.25, jointing_in=0, trim_in=0)
    plan = rip_plan([StockBoard("b", 50, 8, 1, "ash", quantity=9)], panels, allowances)
    assert plan.is_proved
    assert plan.boards_opened == fewest_boards(pieces, (200, 32), plan.boards_opened, 1)


def least_wood(boards, panels, allowances, board_is_worth):
    """Glued panels as one plain model: each place along a board is a section of some length, each gives each panel some
    strips and some width. Thousandths of a board foot of the cheapest plan, in whole sixteenths of an inch."""
    from ortools.sat.python import cp_model

    unit = 1 / 16
    kerf, jointed = round(allowances.kerf_in / unit), round(2 * allowances.jointing_in / unit)
    narrowest, widest = round(allowances.narrowest_strip_in / unit), round(allowances.widest_strip_in / unit)
    lengths = sorted({panel.length_in + allowances.trim_in for panel in panels})
    model, cost, wide = cp_model.CpModel(), 0, [[] for _ in panels]
    for board in boards:
        width, is_open, before, along = round(board.width_in / unit), model.new_bool_var(""), None, 0
        for _ in range(int(board.length_in // lengths[0])):
            sizes = [model.new_bool_var("") for _ in lengths]
            which = sum((number + 1) * size for number, size in enumerate(sizes))
            model.add_at_most_one(sizes)
            if before is not None:
                model.add(which <= before)
            before = which
            along += sum(
                round((each + allowances.kerf_in) / unit) * size for each, size in zip(lengths, sizes, strict=True)
            )
            taken = 0
            for row, panel in zip(wide, panels, strict=True):
                strips, inches = model.new_int_var(0, 3, ""), model.new_int_var(0, width, "")
                fit = [
                    size
                    for each, size in zip(lengths, sizes, strict=True)
                    if each >= panel.length_in + allowances.trim_in
                ]
                model.add(strips <= 3 * sum(fit))
                model.add(inches >= narrowest * strips)
                model.add(inches <= min(widest, width - jointed) * strips)
                taken += inches + (kerf + jointed) * strips
                row.append(inches)
            model.add(taken <= width + kerf)
        model.add(along <= round((board.length_in + allowances.kerf_in) / unit) * is_open)
        cost += round((board.board_feet + board_is_worth) * 1000) * is_open
    for row, panel in zip(wide, panels, strict=True):
        model.add(sum(row) == round(panel.width_in / unit))
    model.minimize(cost)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = 60
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def seeded_panels(seed, most):
    """Boards of all sizes and panels in some lengths, in quarter inches."""
    rng = Random(seed)  # noqa: S311
    boards = [
        StockBoard(f"b{n}", rng.choice([48, 72, 84, 96]), rng.randint(16, 40) / 4, 1, "ash") for n in range(2 + most)
    ]
    panels = [
        PanelWanted(f"p{n}", rng.choice([14, 16, 20, 24]), rng.randint(32, 64) / 4, 0.75, "ash") for n in range(most)
    ]
    return boards, panels


@pytest.mark.source("one plain model of boards, sections and panels, proved by CP-SAT (written in the test)")
@pytest.mark.parametrize("seed", range(4))
def test_panels_of_strips_of_any_widths_take_as_little_wood_as_the_best(seed):
    boards, panels = seeded_panels(seed, 4)
    plan = rip_plan(boards, panels)
    assert plan.is_proved
    assert round(plan.cost_board_feet * 1000) == pytest.approx(
        least_wood(boards, panels, RipAllowances(), 0.5), abs=len(boards)
    )
