"""The search in a thread of its own, so that signals are heard and progress is told every second."""

from __future__ import annotations

import signal
from argparse import Namespace
from threading import Event, Thread
from types import FrameType

from planner.plan import Plan
from planner.problem import Problem
from planner.search.stop import Stop
from planner.shell.progress import Progress, say
from planner.solve import solve

GRACE_SECONDS = 2.0  # for the search to come to its own end once it is told to


class Terminated(Exception):  # noqa: N818 - reads as what happened
    """The search was ended by SIGTERM: no plan is wanted any more."""


class Search:
    """One search. SIGINT asks for the best plan so far, SIGTERM for none."""

    def __init__(self, problem: Problem, start: Plan | None, chosen: Namespace) -> None:
        self.problem, self.start, self.chosen = problem, start, chosen
        self.stop = Stop(chosen.seconds)
        self.progress = Progress(problem)
        self.ended = Event()
        self.signals: list[int] = []
        self.signalled_at = 0.0
        self.plan: Plan | None = None
        self.error: BaseException | None = None

    def run(self) -> Plan:
        """The plan; raises `Terminated` on SIGTERM, and KeyboardInterrupt on SIGINT where there is no plan yet."""
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._hear)
        Thread(target=self._search, daemon=True).start()
        while not self.ended.wait(1) and not self._patience_is_over():
            self.progress.tell(self.stop.seconds_gone())
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, signal.SIG_IGN)  # what comes now is a plan being written
        if signal.SIGTERM in self.signals:
            raise Terminated
        return self._answer()

    def _answer(self) -> Plan:
        plan = self.plan or self.progress.best_so_far(self.stop.seconds_gone())
        if plan is None:
            raise self.error or KeyboardInterrupt
        if self.error:
            say(f"The search broke off ({fault(self.error)}); the best plan until then is written.")
        self.progress.tell_end(plan)
        return plan

    def _patience_is_over(self) -> bool:
        """Whether to go on without the search, where it does not end when its time is up or a signal says so."""
        ends_at: float = self.signalled_at if self.signals else self.chosen.seconds
        waited = self.stop.seconds_gone() - ends_at
        if signal.SIGTERM in self.signals:
            return waited > GRACE_SECONDS
        return len(self.signals) > 1 or (waited > GRACE_SECONDS and self.progress.plan is not None)

    def _hear(self, number: int, _frame: FrameType | None) -> None:
        self.signals.append(number)
        self.signalled_at = self.signalled_at or self.stop.seconds_gone()
        Thread(target=self.stop.now, daemon=True).start()  # not here: the lock it takes may be held by this thread

    def _search(self) -> None:
        try:
            wish = self.chosen
            self.plan = solve(
                self.problem,
                seconds=wish.seconds,
                workers=wish.workers,
                start=self.start,
                observer=self.progress.hear,
                seed=wish.seed,
                stop=self.stop,
                frozen_minutes=wish.frozen_minutes,
                move_price=wish.move_price,
                iterations=wish.iterations,
                gap=wish.gap,
            )
        except BaseException as error:  # told by the thread that waits
            self.error = error
        finally:
            self.ended.set()


def fault(error: BaseException) -> str:
    """An error of our own making, short enough for one line."""
    return f"{type(error).__name__}: {error}"[:300]
