"""From patterns to boards on the bench: which board is cut how, where each strip lies, which panel it goes into."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.layout.cutting.question import Answer, Pattern
from planner.layout.ripping.asking import Asked, size_of
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.plan import BoardCut, CutStrip, GluedStrip, Offcut, PanelGlued, Rings, Section
from planner.trade.glue import clamps_for_panel, glue_grams
from planner.units import NM_PER_INCH

HAIR_IN = 1e-7


@dataclass(slots=True)
class Sawn:
    """One strip that a pattern gives, from which board, and the panel it is for once one takes it."""

    item: int
    board: tuple[StockBoard, int]
    panel: tuple[PanelWanted, int] | None = None


@dataclass(frozen=True, slots=True)
class Opened:
    """One board with its sections of strips."""

    board: tuple[StockBoard, int]
    sections: tuple[tuple[Sawn, ...], ...]


def placed(
    boards: Sequence[StockBoard], asked: Asked, answer: Answer, allowances: RipAllowances
) -> tuple[list[BoardCut], list[PanelGlued]]:
    """The boards opened and the panels made. Of strips alike, a panel takes those that are nearest in moisture."""
    opened = _opened(boards, asked, answer)
    panels = _panels(asked, answer, opened, allowances)
    cuts = [_board_cut(each, asked, allowances) for each in opened]
    return [cut for cut in cuts if cut.sections], panels


def _opened(boards: Sequence[StockBoard], asked: Asked, answer: Answer) -> list[Opened]:
    """Boards alike are taken from the driest up, metered ones first."""
    shelves = {size: deque(_shelf(boards, size)) for size in asked.sizes}
    found = []
    for pattern, times in answer.cut:
        for _ in range(times):
            board = shelves[asked.sizes[pattern.stock]].popleft()
            found.append(Opened(board, _sawn(pattern, board, asked)))
    return found


def _shelf(boards: Sequence[StockBoard], size: tuple[int, int, int]) -> Iterator[tuple[StockBoard, int]]:
    alike = [board for board in boards if size_of(board) == size]
    for board in sorted(alike, key=lambda each: (*_moisture(each), each.id)):
        for number in range(1, board.quantity + 1):
            yield board, number


def _moisture(board: StockBoard) -> tuple[bool, float]:
    return board.moisture_percent is None, board.moisture_percent or 0.0


def _sawn(pattern: Pattern, board: tuple[StockBoard, int], asked: Asked) -> tuple[tuple[Sawn, ...], ...]:
    sections = []
    for _, items in pattern.sections:
        row = [Sawn(item, board) for item, count in items for _ in range(count)]
        sections.append(tuple(sorted(row, key=lambda each: asked.strips[each.item], reverse=True)))
    return tuple(sections)


def _panels(asked: Asked, answer: Answer, opened: Sequence[Opened], allowances: RipAllowances) -> list[PanelGlued]:
    there: dict[int, deque[Sawn]] = defaultdict(deque)
    every = [strip for each in opened for section in each.sections for strip in section]
    for strip in sorted(every, key=lambda each: (*_moisture(each.board[0]), each.board[0].id, each.board[1])):
        there[strip.item].append(strip)
    found = []
    for want, panel in enumerate(asked.panels):
        number = 0
        for way, made in enumerate(answer.made[want]):
            for _ in range(made):
                number += 1
                strips = [there[item].popleft() for item in _items(asked, want, way)]
                for strip in strips:
                    strip.panel = panel, number
                found.append(_glued((panel, number), strips, asked.ways[want][way], allowances))
    return found


def _items(asked: Asked, want: int, way: int) -> list[int]:
    """The way's strips in the order of its finished widths."""
    counts = asked.question.wants[want].ways[way]
    by_width = sorted(counts, key=lambda item: asked.strips[item].width, reverse=True)
    return [item for item in by_width for _ in range(counts[item])]


def _glued(
    which: tuple[PanelWanted, int], sawn: Sequence[Sawn], widths: Sequence[int], allowances: RipAllowances
) -> PanelGlued:
    """Joints are as long and thick as strips are when they are glued: before trimming and planing."""
    panel, number = which
    turns = [Rings.BARK_UP, Rings.BARK_DOWN]
    strips = tuple(
        GluedStrip(
            each.board[0].id, each.board[1], width / NM_PER_INCH, turns[place % 2], each.board[0].moisture_percent
        )
        for place, (each, width) in enumerate(zip(sawn, widths, strict=True))
    )
    joints = len(strips) - 1
    clamps = clamps_for_panel(panel.length_in) if joints else 0
    joint = panel.length_in + allowances.trim_in, panel.thickness_in + allowances.planing_in
    grams = glue_grams(*joint, joints, spread_g_m2=allowances.spread_g_m2)
    return PanelGlued(panel.id, number, strips, clamps, grams)


def _board_cut(opened: Opened, asked: Asked, allowances: RipAllowances) -> BoardCut:
    board, number = opened.board
    bench = _Bench(board, allowances)
    rows = [[each for each in row if each.panel] for row in opened.sections]
    rows = sorted((row for row in rows if row), key=lambda row: -asked.strips[row[0].item].length)
    sections = tuple(bench.section(row, asked) for row in rows)
    bench.off(bench.x_in, 0.0, board.length_in - bench.x_in, board.width_in)
    return BoardCut(
        board_id=board.id,
        number=number,
        length_in=board.length_in,
        width_in=board.width_in,
        board_feet=board.board_feet,
        moisture_percent=board.moisture_percent,
        sections=sections,
        offcuts=tuple(bench.offcuts),
        kerf_in2=bench.kerf_in2,
    )


class _Bench:
    """One board being sawn from its left end; every cut takes its kerf, or what little is left there."""

    def __init__(self, board: StockBoard, allowances: RipAllowances) -> None:
        self.board, self.allowances = board, allowances
        self.x_in = 0.0
        self.kerf_in2 = 0.0
        self.offcuts: list[Offcut] = []

    def section(self, row: Sequence[Sawn], asked: Asked) -> Section:
        start, length_in = self.x_in, asked.strips[row[0].item].length / NM_PER_INCH
        y_in, strips = 0.0, []
        for sawn in row:
            strip = asked.strips[sawn.item]
            size = strip.length / NM_PER_INCH, strip.width / NM_PER_INCH
            strips.append(_strip(sawn, (start, y_in), size))
            self._shortened(start, y_in, length_in, size)
            y_in = self._cut(y_in + size[1], self.board.width_in, across_in=length_in)
        self.off(start, y_in, length_in, self.board.width_in - y_in)
        self.x_in = self._cut(start + length_in, self.board.length_in, across_in=self.board.width_in)
        return Section(start, length_in, tuple(strips))

    def _shortened(self, x_in: float, y_in: float, length_in: float, size: tuple[float, float]) -> None:
        """A strip shorter than its section is crosscut once more."""
        end_in = self._cut(size[0], length_in, across_in=size[1])
        self.off(x_in + end_in, y_in, length_in - end_in, size[1])

    def _cut(self, at_in: float, end_in: float, *, across_in: float) -> float:
        """Where the wood goes on after a cut at `at_in`."""
        kerf_in = min(self.allowances.kerf_in, max(0.0, end_in - at_in))
        self.kerf_in2 += kerf_in * across_in
        return at_in + kerf_in

    def off(self, x_in: float, y_in: float, length_in: float, width_in: float) -> None:
        if length_in > HAIR_IN and width_in > HAIR_IN:
            good = self.allowances
            is_kept = length_in >= good.keep_length_in and width_in >= good.narrowest_strip_in
            self.offcuts.append(Offcut(x_in, y_in, length_in, width_in, is_kept))


def _strip(sawn: Sawn, corner: tuple[float, float], size: tuple[float, float]) -> CutStrip:
    if sawn.panel is None:
        raise AssertionError("only strips that a panel takes are cut")
    return CutStrip(*corner, *size, sawn.panel[0].id, sawn.panel[1])
