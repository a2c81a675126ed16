"""The days before the demo was loaded, worked with the shop's own verbs: planned, begun, ticked, one piece spoilt."""

from __future__ import annotations

from datetime import datetime, timedelta
from random import Random

from planner import Placed, quick_plan
from shop.demo.orders import OrderBook
from shop.demo.slack import Slack
from shop.floor.models import Batch, Piece, Step
from shop.floor.services import begin, spoil, tick
from shop.orders.models import Order
from shop.orders.services import hand_over
from shop.plans.handoff import Shop, read_shop, write_plan
from shop.plans.models import Plan
from shop.stations.models import Person, Station

SPOILT_NO_LONGER_AGO_THAN = timedelta(hours=30)
LOADS_TO_CHOOSE_FROM = 3
MINUTES_A_DAY = 24 * 60
CUSTOMERS = (Order.Channel.ONLINE, Order.Channel.IN_PERSON)


class Past:
    """Two people at work until `until`, a little quicker or slower than planned, always the same way."""

    def __init__(self, book: OrderBook, until: datetime) -> None:
        self.book, self.until = book, until
        self.rng = Random(7)  # noqa: S311 - chance for a story, not for a secret
        self.people = {person.name: person for person in Person.objects.all()}
        self.stations = {station.name: station for station in Station.objects.all()}
        self.has_spoilt = False

    def work(self, start: datetime) -> None:
        """From `start` on, planning anew each time that the shop opens after a night."""
        at = start
        while at < self.until:
            at = self._work_a_day(at)
        self.book.take_until(self.until)
        self.has_spoilt = self.has_spoilt or _spoil_something(self.until)
        _forget_plans()

    def _work_a_day(self, at: datetime) -> datetime:
        """Returns when the next day begins."""
        self.book.take_until(at)
        self._hand_over(at)
        if not self.has_spoilt and at > self.until - SPOILT_NO_LONGER_AGO_THAN:
            self.has_spoilt = _spoil_something(at)
        shop = read_shop(at)
        plan = quick_plan(shop.problem)
        write_plan(shop, plan)
        ends_at = _next_morning(shop)
        self._follow(shop, Slack(shop.problem, plan), min(ends_at, self.until))
        return ends_at

    def _hand_over(self, at: datetime) -> None:
        """Whatever a customer waits for goes out on the morning after it is packed."""
        for order in Order.objects.open().filter(channel__in=CUSTOMERS).with_progress().filter(pieces_left__lte=0):
            hand_over(order, at=at)

    def _follow(self, shop: Shop, slack: Slack, ends_at: datetime) -> None:
        steps = Step.objects.in_bulk([step.id for step in shop.problem.steps if not step.begun], field_name="key")
        for placed in slack.in_order:
            begun_at = shop.clock.instant(placed.start)
            if placed.step in steps and begun_at < ends_at and steps[placed.step].pieces.exists():
                self._do(steps[placed.step], placed, begun_at, slack)

    def _do(self, step: Step, placed: Placed, begun_at: datetime, slack: Slack) -> None:
        """Begin a step, and tick it unless that is still to come."""
        person = self.people.get(placed.person)
        step = begin(step, by=person, at=begun_at, stations=[self.stations[name] for name in placed.stations])
        minutes = self._took(step, slack.after(placed))
        ticked_at = begun_at + timedelta(minutes=minutes)
        planned_end = begun_at + timedelta(minutes=step.attended_minutes)
        # Who is quicker at the very last step is still seen at it, so that a working day is never found idle.
        if max(ticked_at, planned_end) < self.until:
            tick(step, by=person, at=ticked_at, minutes=minutes)

    def _took(self, step: Step, slack: int | None) -> int:
        """As planned where a window counts on it; else somewhat less, or more while nothing waits for it."""
        if slack is None:
            return step.attended_minutes
        wished = round(step.attended_minutes * self.rng.triangular(0.85, 1.3, 1.0))
        return max(1, min(wished, step.attended_minutes + slack))


def _next_morning(shop: Shop) -> datetime:
    """When the shop opens for the first time on a later day."""
    return shop.clock.instant(min(opens for opens, _ in shop.problem.watched if opens >= MINUTES_A_DAY))


def _spoil_something(at: datetime) -> bool:
    """A crack shows in a routed piece that takes long to make again; False while there is none."""
    routed = Step.objects.filter(kind="router", tick__isnull=False).order_by("-tick__at")[:LOADS_TO_CHOOSE_FROM]
    pieces = Piece.objects.filter(steps__in=list(routed), spoilt_at=None)
    piece = pieces.order_by("-line__design__is_glued", "-line__design__finish__soak_least_minutes", "pk").first()
    if piece:
        spoil(piece, why="a crack ran in from the rim overnight", at=at)
    return piece is not None


def _forget_plans() -> None:
    """Their story is in what was begun and ticked; the first plan in force is the one that is asked for next."""
    Plan.objects.all().delete()
    Step.objects.filter(begun_at=None).delete()
    Batch.objects.filter(steps=None).delete()
