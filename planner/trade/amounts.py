"""What the numbers of the trade's sums must be: numbers at all, and none below what makes sense."""

from __future__ import annotations

from decimal import Decimal
from math import isfinite

from planner.errors import PlannerError


def a_number(name: str, value: float | Decimal) -> None:
    """Raises PlannerError for infinity and for what is no number."""
    if not isfinite(value):
        raise PlannerError(f"The {name} is a number, not {value:g}.")


def above_zero(name: str, value: float | Decimal) -> None:
    """Raises PlannerError for 0 and less, too."""
    if not (isfinite(value) and value > 0):
        raise PlannerError(f"The {name} is above 0, not {value:g}.")


def not_below_zero(name: str, value: float | Decimal) -> None:
    """Raises PlannerError for less than 0, too."""
    if not (isfinite(value) and value >= 0):
        raise PlannerError(f"The {name} is 0 or more, not {value:g}.")


def a_share(name: str, value: float | Decimal) -> None:
    """Raises PlannerError for what is not from 0 to 1."""
    if not (isfinite(value) and 0 <= value <= 1):
        raise PlannerError(f"The {name} is a share from 0 to 1, not {value:g}.")
