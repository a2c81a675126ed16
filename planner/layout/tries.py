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

    @property
    def all(self) -> range:
        return range(max(1, self.count))

    def fewer(self, share: float) -> Tries:
        """The same chance with so many tries as this share of them."""
        return Tries(self.rng, max(1, round(self.count * min(1.0, share))), self.enough)
