"""Pieces on their way: what is still to do on each, when it can go on, how long the rest of its way takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from planner.making.blanks import allot_blanks
from planner.making.obstacles import Obstacle, obstacle_for
from planner.making.pace import Pace
from planner.making.pieces import OrderFacts, Piece, StandingStep, Work
from planner.making.routes import Stage, Together, route_of, still_to_do, waits_of
from planner.parts import Wait


@dataclass(frozen=True, eq=False)
class Track:
    """A piece on its way through the workshop; minutes are elapsed ones since the origin."""

    piece: Piece
    order: OrderFacts
    due: int
    ready: int  # when its last begun step lets it go on
    route: tuple[Stage, ...]
    to_do: tuple[Stage, ...]
    blank: str | None
    pace: Pace
    obstacle: Obstacle | None = None

    @property
    def id(self) -> str:
        return self.piece.id

    @property
    def apart(self) -> str:
        """Says whom it may not be batched with: what can't be made keeps to itself."""
        return self.id if self.obstacle else ""

    @cached_property
    def waits(self) -> dict[tuple[str, str], Wait]:
        return {(before, after): wait for before, after, wait in waits_of(self.route, self.pace.floor)}

    def stages(self, together: Together) -> tuple[Stage, ...]:
        """What is still to do in this company."""
        return tuple(stage for stage in self.to_do if stage.kind.together is together)

    def stage(self, name: str) -> Stage | None:
        return next((stage for stage in self.to_do if stage.name == name), None)

    def has(self, name: str) -> bool:
        return self.stage(name) is not None

    def before(self, name: str) -> Stage | None:
        """The stage of its whole route right before that one."""
        names = [stage.name for stage in self.route]
        place = names.index(name)
        return self.route[place - 1] if place else None

    def reaches(self, name: str) -> int:
        """When it could be at that stage at the earliest, if nobody else were in the workshop."""
        return self.ready + self._lead(self._until(name))

    def lead(self, first: str, last: str) -> int:
        """How long it takes from the end of one stage still to do to the start of another."""
        return self._lead(self._until(last)[len(self._until(first)) + 1 :])

    def tail(self, name: str) -> int:
        """How long it takes from the start of that stage until it could be packed."""
        return self._lead(self.to_do[len(self._until(name)) :])

    def _until(self, name: str) -> tuple[Stage, ...]:
        names = [stage.name for stage in self.to_do]
        return self.to_do[: names.index(name)]

    def _lead(self, stages: Sequence[Stage]) -> int:
        worked = sum(self.pace.elapsed(stage.minutes) + stage.alone_minutes + stage.wait[0] for stage in stages)
        return worked + (self.pace.floor.glue.cure_minutes if any(stage.name == "glue" for stage in stages) else 0)


def tracks_of(work: Work, pace: Pace) -> list[Track]:
    """A track for every piece, the most urgent first; they get what blanks are in stock in the same order."""
    orders = {order.id: order for order in work.orders}
    begun = _begun_by_piece(work.standing)
    pieces = sorted(work.pieces, key=lambda piece: _urgency(piece, orders[piece.order]))
    no_wood_yet = [piece for piece in pieces if not piece.past and piece.design.passes]
    blanks = allot_blanks(no_wood_yet, work.floor.blanks)
    return [_track(piece, orders[piece.order], begun.get(piece.id, {}), blanks, pace) for piece in pieces]


def _urgency(piece: Piece, order: OrderFacts) -> tuple[int, int, str, str, int, str]:
    """The sooner due goes first, then the sooner placed; pieces of one line stay together."""
    return order.due, order.placed, order.id, piece.line, len(piece.id), piece.id


def _track(
    piece: Piece, order: OrderFacts, begun: Mapping[str, StandingStep], blanks: Mapping[str, str], pace: Pace
) -> Track:
    blank = blanks.get(piece.id)
    route = route_of(piece.design, pace.floor, has_blank=blank is not None)
    to_do = still_to_do(route, piece.past)
    obstacle = obstacle_for(piece, [stage.name for stage in to_do], pace)
    track = Track(piece, order, max(order.due, pace.now), pace.now, route, to_do, blank, pace, obstacle)
    return replace(track, ready=max([pace.now, *_let_go(track, begun)]))


def _let_go(track: Track, begun: Mapping[str, StandingStep]) -> Iterator[int]:
    """When each begun step lets a piece go on, counted back to the first stage still to do."""
    for (before, after), (least, _) in track.waits.items():
        if before in begun and track.has(after):
            yield end_of(begun[before]) + least - (track.reaches(after) - track.ready)


def must_stay_with(track: Track, stage: str, lots: Mapping[str, str]) -> str:
    """The lot of a piece that has to go on within a window and so can wait for nobody else; else nothing."""
    before = track.before(stage)
    return lots.get(track.id, track.id) if before and before.wait[1] is not None else ""


def end_of(step: StandingStep) -> int:
    """The minute in which a begun step ended or is to end."""
    return step.begun.start + sum(segment.minutes for segment in step.segments)


def _begun_by_piece(standing: Iterable[StandingStep]) -> dict[str, dict[str, StandingStep]]:
    """Each piece's begun steps by stage."""
    found: dict[str, dict[str, StandingStep]] = {}
    for step in standing:
        for piece in step.pieces:
            found.setdefault(piece, {})[step.stage] = step
    return found
