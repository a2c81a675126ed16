"""What every rip plan keeps to, judged from the plan alone, whatever made it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.plan import BoardCut, CutStrip, PanelGlued, RipPlan

HAIR_IN = 1e-5
Piece = tuple[str, int]


def broken_rip_rules(
    boards: Sequence[StockBoard], panels: Sequence[PanelWanted], allowances: RipAllowances, plan: RipPlan
) -> list[str]:
    """A sentence for each rule that the plan breaks; none for a plan that can be sawn and glued as it says."""
    rules = _Rules({each.id: each for each in boards}, {each.id: each for each in panels}, allowances, plan)
    return [*rules.boards_in_stock(), *rules.sawn_as_drawn(), *rules.strips_good_enough(), *rules.panels_whole()]


@dataclass(frozen=True, slots=True)
class _Rules:
    boards: dict[str, StockBoard]
    panels: dict[str, PanelWanted]
    allowances: RipAllowances
    plan: RipPlan

    def boards_in_stock(self) -> Iterator[str]:
        """Each opened board is there, once, and of the size it is in stock."""
        seen = Counter((cut.board_id, cut.number) for cut in self.plan.boards)
        for (board_id, number), times in seen.items():
            board = self.boards.get(board_id)
            if board is None or not 1 <= number <= board.quantity:
                yield f"board {board_id} no. {number} is not in stock"
            if times > 1:
                yield f"board {board_id} no. {number} is opened {times} times"
        for cut in self.plan.boards:
            board = self.boards.get(cut.board_id)
            if board and (cut.length_in, cut.width_in) != (board.length_in, board.width_in):
                yield f"board {cut.board_id} is {board.length_in:g} × {board.width_in:g} in, not as drawn"

    def sawn_as_drawn(self) -> Iterator[str]:
        """Nothing reaches over an edge, cuts are a kerf apart, and strips, kerf and offcuts are the whole face."""
        for cut in self.plan.boards:
            yield from self._apart(
                cut, [(each.x_in, each.length_in) for each in cut.sections], cut.length_in, "section"
            )
            for section in cut.sections:
                spans = [(strip.y_in, strip.width_in) for strip in section.strips]
                yield from self._apart(cut, spans, cut.width_in, "strip")
                for strip in section.strips:
                    if abs(strip.x_in - section.x_in) > HAIR_IN or strip.length_in > section.length_in + HAIR_IN:
                        yield f"board {cut.board_id} no. {cut.number}: a strip is not inside its section"
            whole = cut.strips_in2 + cut.kerf_in2 + sum(offcut.area_in2 for offcut in cut.offcuts)
            if abs(whole - cut.area_in2) > HAIR_IN * (1 + cut.area_in2):
                yield f"board {cut.board_id} no. {cut.number}: strips, kerf and offcuts are not the whole board"

    def _apart(self, cut: BoardCut, spans: Sequence[tuple[float, float]], end_in: float, name: str) -> Iterator[str]:
        spans = sorted(spans)
        where = f"board {cut.board_id} no. {cut.number}"
        if any(start < -HAIR_IN or size <= 0 or start + size > end_in + HAIR_IN for start, size in spans):
            yield f"{where}: a {name} reaches over the edge"
        for (one, size), (other, _) in pairwise(spans):
            if other - (one + size) < self.allowances.kerf_in - HAIR_IN:
                yield f"{where}: two {name}s are less than a kerf apart"

    def strips_good_enough(self) -> Iterator[str]:
        """Species, thickness and length are right for the panel each strip goes into."""
        for cut, strip in self._strips():
            panel, board = self.panels.get(strip.panel_id), self.boards.get(cut.board_id)
            if panel is None:
                yield f"a strip is for panel {strip.panel_id}, which nobody wants"
            elif board is not None:
                where = f"board {cut.board_id} for panel {panel.id}"
                if board.species != panel.species:
                    yield f"{where}: {board.species} is not {panel.species}"
                if board.thickness_in < panel.thickness_in + self.allowances.planing_in - HAIR_IN:
                    yield f"{where}: too thin once planed"
                if strip.length_in < panel.length_in + self.allowances.trim_in - HAIR_IN:
                    yield f"{where}: a strip is too short once trimmed"

    def panels_whole(self) -> Iterator[str]:
        """Each panel is made or short, and each made one is as wide as wanted, of strips that are cut for it."""
        sawn: dict[Piece, Counter[tuple[str, int, int]]] = {}
        for cut, strip in self._strips():
            key = cut.board_id, cut.number, round((strip.width_in - 2 * self.allowances.jointing_in) / HAIR_IN)
            sawn.setdefault((strip.panel_id, strip.panel_number), Counter())[key] += 1
        made = Counter(glued.panel_id for glued in self.plan.panels)
        short = Counter({each.panel_id: each.quantity for each in self.plan.short})
        for panel in self.panels.values():
            if made[panel.id] + short[panel.id] != panel.quantity or short[panel.id] < 0:
                yield f"panel {panel.id}: {made[panel.id]} made and {short[panel.id]} short of {panel.quantity}"
        for glued in self.plan.panels:
            cut_for_it = sawn.pop((glued.panel_id, glued.number), Counter())
            yield from self._glued(glued, cut_for_it)
        for panel_id, number in sawn:
            yield f"strips are cut for panel {panel_id} no. {number}, which is not glued, or twice"

    def _glued(self, glued: PanelGlued, sawn: Counter[tuple[str, int, int]]) -> Iterator[str]:
        where, panel = f"panel {glued.panel_id} no. {glued.number}", self.panels.get(glued.panel_id)
        strips = glued.strips
        if panel is None:
            return
        if Counter((each.board_id, each.board_number, round(each.width_in / HAIR_IN)) for each in strips) != sawn:
            yield f"{where}: its strips are not the ones cut for it"
        if abs(sum(each.width_in for each in strips) - panel.width_in) > HAIR_IN:
            yield f"{where}: its strips do not make up its width"
        widest = self.allowances.widest_strip_in
        if panel.strips != 1 and any(each.width_in > widest + HAIR_IN for each in strips):
            yield f"{where}: a strip is too wide to be left in one piece"
        narrowest = min(self.allowances.narrowest_strip_in, panel.width_in)
        if panel.strips is None and any(each.width_in < narrowest - HAIR_IN for each in strips):
            yield f"{where}: a strip is narrower than the narrowest"
        if any(one.rings is other.rings for one, other in pairwise(strips)):
            yield f"{where}: the rings of two neighbours lie the same way"
        widths = [each.width_in for each in strips]
        if panel.strips is not None and (len(strips) != panel.strips or max(widths) - min(widths) > HAIR_IN):
            yield f"{where}: it is not glued of {panel.strips} equal strips"

    def _strips(self) -> Iterator[tuple[BoardCut, CutStrip]]:
        for cut in self.plan.boards:
            for section in cut.sections:
                for strip in section.strips:
                    yield cut, strip
