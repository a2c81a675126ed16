"""Dates of the demo: everything is told relative to the day on which it is loaded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

SATURDAY = 5
LEAST_DAYS_TO_A_FAIR = 6


@dataclass(frozen=True)
class Dates:
    """Days counted from today in the workshop's own zone."""

    now: datetime
    zone: ZoneInfo

    @property
    def today(self) -> date:
        return self.now.astimezone(self.zone).date()

    def day(self, days: int) -> date:
        return self.today + timedelta(days=days)

    def at(self, days: int, clock: time) -> datetime:
        return datetime.combine(self.day(days), clock, self.zone)

    def hours_of(self, days: int, opening: time, closing: time) -> tuple[datetime, datetime]:
        """From opening to closing of that day; of today, what is past of it."""
        if days == 0:
            return self.at(0, time.min), self.now
        return self.at(days, opening), self.at(days, closing)

    def workday(self, days: int) -> date:
        """The first Monday to Friday on or after that many days from today."""
        day = self.day(days)
        return day if day.weekday() < SATURDAY else day + timedelta(days=7 - day.weekday())

    @property
    def days_to_first_fair(self) -> int:
        """To a Saturday six to twelve days ahead; the second fair is a week later."""
        return LEAST_DAYS_TO_A_FAIR + (SATURDAY - self.day(LEAST_DAYS_TO_A_FAIR).weekday()) % 7
