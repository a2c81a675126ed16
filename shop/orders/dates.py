"""When "by Friday" is: days and their ends by the clock on the workshop's wall."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

END_OF_WORKING_DAY = time(17)
"""When something due on a day, and no hour, is due."""


def at_the_wall(said: datetime, zone: ZoneInfo) -> datetime:
    """An instant in UTC. Without an offset it is by the clock on the shop's wall.

    An hour that the clock skips moves on past the gap, one that it shows twice is the first (PEP 495, fold 0).
    """
    return (said if said.tzinfo else said.replace(tzinfo=zone)).astimezone(UTC)


def end_of(day: date, zone: ZoneInfo) -> datetime:
    return at_the_wall(datetime.combine(day, END_OF_WORKING_DAY), zone)
