"""When a search ends: after its seconds, or as soon as somebody says so."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Lock
from time import monotonic


class Stop:
    """A deadline that can be brought forward from another thread or a signal handler."""

    def __init__(self, seconds: float, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._began = clock()
        self._seconds = seconds
        self._said = Event()
        self._lock = Lock()
        self._interrupts: list[Callable[[], object]] = []

    def seconds_gone(self) -> float:
        return self._clock() - self._began

    def seconds_left(self) -> float:
        return 0.0 if self._said.is_set() else max(0.0, self._seconds - self.seconds_gone())

    def reached(self) -> bool:
        return self.seconds_left() <= 0

    def now(self) -> None:
        """End the search, and interrupt what runs at this moment."""
        self._said.set()
        with self._lock:
            for interrupt in self._interrupts:
                interrupt()

    def interrupts(self, interrupt: Callable[[], object]) -> Interrupted:
        """While the block runs, `interrupt` is called if the search is to end at once."""
        return Interrupted(self._interrupts, self._lock, interrupt)


class Interrupted:
    """A block that can be interrupted."""

    def __init__(self, interrupts: list[Callable[[], object]], lock: Lock, interrupt: Callable[[], object]) -> None:
        self._interrupts, self._lock, self._interrupt = interrupts, lock, interrupt

    def __enter__(self) -> None:
        with self._lock:
            self._interrupts.append(self._interrupt)

    def __exit__(self, *_: object) -> None:
        with self._lock:
            self._interrupts.remove(self._interrupt)
