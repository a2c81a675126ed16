"""The moisture that wood comes to in air of a temperature and a humidity.

Hailwood and Horrobin's equation with the coefficients of Simpson 1973: Wood Handbook, FPL-GTR-190 (2010), equation 4-5;
in °C FPL-RN-0268 (1998). The data behind it are historic (FPL-GTR-229, 2014): good for the shop, not for science.
"""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from planner.errors import PlannerError

COLDEST_F, HOTTEST_F = 30.0, 130.0


class _Coefficients(NamedTuple):
    w: float
    k: float
    k1: float
    k2: float


def equilibrium_moisture_percent(fahrenheit: float, humidity: float) -> float:
    """Equilibrium moisture content in per cent of the dry wood's weight.

    `fahrenheit` from 30 to 130, as in the handbook's table 4-2; `humidity` relative, a fraction from 0 to below 1.
    Raises PlannerError outside. Source: Wood Handbook, FPL-GTR-190, eq. 4-5.

    >>> round(equilibrium_moisture_percent(70, 0.5), 1)
    9.2
    """
    _check(fahrenheit, humidity)
    t = fahrenheit
    return _moisture(
        humidity,
        _Coefficients(
            330 + 0.452 * t + 0.00415 * t**2,
            0.791 + 0.000463 * t - 0.000000844 * t**2,
            6.34 + 0.000775 * t - 0.0000935 * t**2,
            1.09 + 0.0284 * t - 0.0000904 * t**2,
        ),
    )


def equilibrium_moisture_percent_celsius(celsius: float, humidity: float) -> float:
    """The same from °C. Source: FPL-RN-0268 (1998)."""
    _check(celsius * 9 / 5 + 32, humidity)
    t = celsius
    return _moisture(
        humidity,
        _Coefficients(
            349 + 1.29 * t + 0.0135 * t**2,
            0.805 + 0.000736 * t - 0.00000273 * t**2,
            6.27 - 0.00938 * t - 0.000303 * t**2,
            1.91 + 0.0407 * t - 0.000293 * t**2,
        ),
    )


def _moisture(humidity: float, coefficients: _Coefficients) -> float:
    w, k, k1, k2 = coefficients
    wet = k * humidity
    bound = (k1 * wet + 2 * k1 * k2 * wet**2) / (1 + k1 * wet + k1 * k2 * wet**2)
    return 1800 / w * (wet / (1 - wet) + bound)


def _check(fahrenheit: float, humidity: float) -> None:
    if not (isfinite(fahrenheit) and COLDEST_F <= fahrenheit <= HOTTEST_F):
        raise PlannerError(f"The air is {COLDEST_F:g} to {HOTTEST_F:g} °F for this sum, not {fahrenheit:g}.")
    if not (isfinite(humidity) and 0 <= humidity < 1):
        raise PlannerError(f"Relative humidity is a share from 0 to below 1, not {humidity:g}.")
