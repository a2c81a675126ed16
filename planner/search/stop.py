"""When a search ends: after its seconds or its iterations, or as soon as somebody says so."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from threading import Event, Lock
from time import monotonic

ITERATION_SECONDS = 0.3  # about


class Stop:
    """A deadline that can be brought forward from another thread or a signal handler."""

    def __init__(self, seconds: float, clock: Callable[[], float] = monotonic, within: Stop | None = None) -> None:
        self._clock = clock
        self._within = within
        self._began = clock()
        self._seconds = seconds
        self.iterations: int | None = None
        self._counted = 0
        self._said = Event()
        self._lock = Lock()
        self._interrupts: list[Callable[[], object]] = []

    @property
    def is_repeatable(self) -> bool:
        """Whether iterations count, so that nothing else may depend on the clock."""
        return self.iterations is not None

    def count(self) -> None:
        """One more iteration is over."""
        self._counted += 1
        if self._within is not None:
            self._within.count()

    @property
    def seconds_in_all(self) -> float:
        """How long the search lasts; where iterations count, about as long as those take."""
        return self._seconds if self.iterations is None else ITERATION_SECONDS * self.iterations

    def share_gone(self) -> float:
        """How much of the search is over, from 0 to 1."""
        gone, whole = (
            (self.seconds_gone(), self._seconds) if self.iterations is None else (self._counted, self.iterations)
        )
        return min(1.0, gone / whole) if whole > 0 else 1.0

    def seconds_gone(self) -> float:
        return self._clock() - self._began

    def seconds_left(self) -> float:
        if self._said.is_set():
            return 0.0
        left = max(0.0, self._seconds - self.seconds_gone())
        return left if self._within is None else min(left, self._within.seconds_left())

    def part(self, seconds: float, iterations: int = 1) -> Stop:
        """The end of a part of what this one ends; where iterations count, after so many."""
        part = Stop(float("inf") if self.is_repeatable else seconds, self._clock, self)
        part.iterations = iterations if self.is_repeatable else None
        return part

    def reached(self) -> bool:
        if self._within is not None and self._within.reached():
            return True
        return self.seconds_left() <= 0 or (self.iterations is not None and self._counted >= self.iterations)

    def now(self) -> None:
        """End the search, and interrupt what runs at this moment."""
        self._said.set()
        with self._lock:
            for interrupt in self._interrupts:
                interrupt()

    @contextmanager
    def interrupts(self, interrupt: Callable[[], object]) -> Iterator[None]:
        """While the block runs, `interrupt` is called if the search, or what it is a part of, is to end at once."""
        with self._lock:
            self._interrupts.append(interrupt)
        try:
            with nullcontext() if self._within is None else self._within.interrupts(interrupt):
                yield
        finally:
            with self._lock:
                self._interrupts.remove(interrupt)
