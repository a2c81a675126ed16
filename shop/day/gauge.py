"""A wait as an upright gauge: a level that rises with time, the band in which to touch it, the line of too late."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

HEIGHT = 120
"""Of the drawn tube, in the drawing's own units; 0 is its top."""

ABOVE_THE_BAND = 0.25
"""So much of the whole is kept above the last edge, so that too late has a place of its own."""

SOON = timedelta(hours=1)


class State(StrEnum):
    """How a wait stands, in the words of the page."""

    EARLY = "too early"
    NOW = "touch it now"
    LATE = "too late"


@dataclass(frozen=True)
class Gauge:
    """A wait since an instant, with its band; `closes_at` is None where it can't be too late."""

    since: datetime
    opens_at: datetime
    closes_at: datetime | None
    now: datetime

    @property
    def state(self) -> State:
        if self.now < self.opens_at:
            return State.EARLY
        return State.LATE if self.closes_at and self.now > self.closes_at else State.NOW

    @property
    def shuts_soon(self) -> bool:
        return self.state == State.NOW and self.closes_at is not None and self.closes_at - self.now <= SOON

    @property
    def minutes_to_edge(self) -> int | None:
        """Until it opens, until it shuts, or since it has shut; None where the band has no upper edge."""
        edge = self.opens_at if self.state == State.EARLY else self.closes_at
        return None if edge is None else round(abs(edge - self.now) / timedelta(minutes=1))

    @property
    def level_y(self) -> float:
        return self._y(self.now)

    @property
    def opens_y(self) -> float:
        return self._y(self.opens_at)

    @property
    def closes_y(self) -> float:
        return 0.0 if self.closes_at is None else self._y(self.closes_at)

    @property
    def band_height(self) -> float:
        return self.opens_y - self.closes_y

    @property
    def below_level(self) -> float:
        return HEIGHT - self.level_y

    @property
    def _whole(self) -> timedelta:
        last = self.closes_at or self.opens_at
        return max((last - self.since) * (1 + ABOVE_THE_BAND), timedelta(minutes=1))

    def _y(self, at: datetime) -> float:
        share = min(max((at - self.since) / self._whole, 0.0), 1.0)
        return round(HEIGHT * (1 - share), 1)
