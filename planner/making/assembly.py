"""From all the work there is to one Problem: steps, links, holds, orders."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime

from planner.making.batches import Batch
from planner.making.batching import batches_of
from planner.making.joints import holds_of, links_of
from planner.making.pace import Pace
from planner.making.pieces import Floor, Work
from planner.making.routes import Together
from planner.making.steps import begun_step, step_of
from planner.making.tracks import end_of, tracks_of
from planner.parts import Order, Station, Step
from planner.problem import Problem


def problem_of(work: Work, *, origin: datetime, now: int) -> Problem:
    """The whole work as one problem: what has begun stays as it is, all else is batched afresh.

    Times in `work` are minutes since `origin`; nothing new starts before `now`. The same work gives the same steps with
    the same ids. A piece that can't be made here gets steps that need a place that is not there (`about["impossible"]`
    says why): they come out unplaced, and all else is planned.
    """
    pace = Pace(work.floor, now)
    tracks = tracks_of(work, pace)
    kept = {step.batch for step in work.standing}
    batches = batches_of(tracks, work.standing, pace)
    new = [step for batch in batches for step in _steps_of(batch, work.floor, kept)]
    at = {(piece, step.about["stage"]): step.id for step in new for piece in step.about["pieces"]}
    at |= {(piece, step.stage): step.id for step in work.standing for piece in step.pieces}
    over = {step.id for step in work.standing if end_of(step) <= now}
    orders = tuple(_orders_left(work, at, over))
    wanted = {step for order in orders for step in order.steps}
    begun = [begun_step(step, work.floor) for step in work.standing if step.id in wanted or step.id not in over]
    open_orders = {order.id for order in orders}
    here = [track for track in tracks if track.order.id in open_orders]
    return Problem(
        origin=origin,
        now=now,
        people=work.floor.people,
        stations=(*work.floor.stations, *_never_open(new, work.floor)),
        steps=(*begun, *new),
        links=tuple(links_of(here, at, work.floor.minutes.window_margin)),
        holds=tuple(holds_of(here, at, pace, over)),
        orders=orders,
        prices=work.prices,
    )


def _steps_of(batch: Batch, floor: Floor, kept: Collection[str]) -> Iterator[Step]:
    """A batch's steps; what has begun is finished, whatever stands in the way later."""
    obstacle = next((track.obstacle for track in batch.tracks if track.obstacle), None)
    spared = batch.id in kept or batch.together is Together.PACKING
    return (step_of(batch, stage, floor, None if spared else obstacle) for stage in batch.stages)


def _orders_left(work: Work, at: Mapping[tuple[str, str], str], over: Collection[str]) -> Iterator[Order]:
    """The orders of which something is not over yet, with every step that serves them."""
    steps: dict[str, dict[str, None]] = defaultdict(dict)
    order_of = {piece.id: piece.order for piece in work.pieces}
    for (piece, _), step in at.items():
        if piece in order_of:
            steps[order_of[piece]][step] = None
    for order in work.orders:
        if any(step not in over for step in steps[order.id]):
            yield Order(order.id, tuple(sorted(steps[order.id])), order.due, order.weight, order.hard)


def _never_open(steps: Iterable[Step], floor: Floor) -> Sequence[Station]:
    """The places that steps need and that the workshop hasn't."""
    here = {station.id for station in floor.stations}
    named = dict.fromkeys(place for step in steps for need in step.stations for place in need.any_of)
    return [Station(place, hours=()) for place in named if place not in here]
