"""How long a search may go on."""

from __future__ import annotations

from time import monotonic


class Deadline:
    """So many seconds from now."""

    def __init__(self, seconds: float) -> None:
        self._ends = monotonic() + seconds

    def left(self) -> float:
        return max(0.0, self._ends - monotonic())

    def share(self, part: float) -> Deadline:
        """The end of a part of what is left."""
        return Deadline(self.left() * part)
