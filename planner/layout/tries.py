"""What a search for a layout is given: chance, how often it tries, and who may end it earlier."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random


@dataclass(frozen=True)
class Tries:
    """Chance, the number of tries for each panel, and whether somebody says that it is enough."""

    rng: Random
    count: int
    enough: Callable[[], bool]

    def part(self, share: int) -> range:
        """So many tries as one in `share` of them, at least one."""
        return range(max(1, self.count // share))
