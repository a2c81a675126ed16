"""Instants on one side, whole minutes since an origin on the other."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import ceil
from zoneinfo import ZoneInfo


@dataclass(frozen=True)
class Clock:
    """Elapsed minutes since `origin`; a clock change is no special case, because elapsed time has none."""

    origin: datetime

    @classmethod
    def starting(cls, at: datetime, zone: ZoneInfo) -> Clock:
        """The clock whose minute 0 is the beginning of the workshop's day."""
        midnight = at.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
        return cls(midnight)

    def minute(self, at: datetime) -> int:
        """The minute in which `at` lies."""
        return int(self._elapsed(at) // timedelta(minutes=1))

    def next_minute(self, at: datetime) -> int:
        """The first whole minute not before `at`."""
        return ceil(self._elapsed(at) / timedelta(minutes=1))

    def instant(self, minute: int) -> datetime:
        return self.origin.astimezone(UTC) + timedelta(minutes=minute)

    def _elapsed(self, at: datetime) -> timedelta:
        # Two datetimes of one zone subtract by the clock on the wall in Python; in UTC by what has elapsed.
        return at.astimezone(UTC) - self.origin.astimezone(UTC)
