"""How early an order can end if one of its steps starts no earlier than a given minute."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from planner.search.bits import stretch
from planner.search.bound.domains import Domains

Minutes = npt.NDArray[np.int64]
NEVER = 1 << 40


class Finishes:
    """Ends of orders over the stretches of time that begin at `bounds` (minutes from now, the first of them 0)."""

    def __init__(self, domains: Domains, bounds: Minutes) -> None:
        self.domains, self.facts, self.bounds = domains, domains.facts, bounds
        self._runs = lru_cache(maxsize=1024)(_runs)

    def needed_for(self, steps: Collection[str]) -> list[str]:
        """The steps, not begun, that must end before these have, each after all it waits for."""
        return sorted(self.facts.needed_for(steps), key=self.facts.order.__getitem__)

    def tables(self, needed: list[str], own: Collection[str]) -> dict[str, Minutes]:
        """For each step needed, when `own` can all have ended at best if it starts in a stretch or later."""
        found: dict[str, Minutes] = {}
        for step in reversed(needed):
            starts = self.next_start(self.domains.starts[step], self.bounds)
            found[step] = self.ends(step, starts, found, own)
        return found

    def tails(self, needed: list[str]) -> dict[str, int]:
        """For each step needed, the least minutes from its end until all that must follow has ended."""
        found: dict[str, int] = {}
        for step in reversed(needed):
            after = [
                link.waits[0][0] + self.facts.steps[link.after].minutes + found[link.after]
                for link in self.facts.links_out[step]
                if link.after in found
            ]
            found[step] = max([0, *after])
        return found

    def ends(self, step: str, starts: Minutes, tables: Mapping[str, Minutes], own: Collection[str]) -> Minutes:
        """When `own` can all have ended at best with the step at these starts; `tables` of all that follows."""
        ends = starts + self.facts.steps[step].minutes
        last = ends if step in own else np.zeros_like(ends)
        for link in self.facts.links_out[step]:
            if link.after in tables:
                last = np.maximum(last, tables[link.after][self.stretch_of(ends + link.waits[0][0])])
        return np.where(starts >= NEVER, NEVER, last)

    def stretch_of(self, times: Minutes) -> Minutes:
        return np.asarray(np.searchsorted(self.bounds, times, side="right") - 1)

    def next_start(self, starts: int, times: Minutes) -> Minutes:
        """The first of the starts at or after each time; `NEVER` where there is none."""
        opens, closes = self._runs(starts)
        return np.maximum(opens[np.searchsorted(closes, times, side="right")], times)


def _runs(bits: int) -> tuple[Minutes, Minutes]:
    """The runs of a set of minutes, half-open, and one more that opens `NEVER`."""
    edges = np.flatnonzero(np.diff(flags(bits, bits.bit_length() + 1), prepend=0, append=0)).astype(np.int64)
    opens, closes = edges[::2], edges[1::2]
    if bits < 0:
        closes[-1] = NEVER
    return np.append(opens, NEVER), np.append(closes, 2 * NEVER)


def flags(bits: int, length: int) -> npt.NDArray[np.uint8]:
    """The first `length` bits, one by one."""
    raw = (bits & stretch(0, length)).to_bytes(length // 8 + 1, "little")
    return np.unpackbits(np.frombuffer(raw, np.uint8), bitorder="little")[:length]
