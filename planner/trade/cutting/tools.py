"""A router bit with its feeds, and the machine that carries it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil, isfinite

from planner.errors import CuttingError

STEEPEST_RAMP_DEGREES = 45
LEAST_ANGLE_DEGREES, MOST_ANGLE_DEGREES = 10, 170
SHALLOWEST_IN = 1 / 64
"""What goes less deep at once would take hundreds of levels: a slip of the finger."""
HAIR = 1e-9


class CutterShape(StrEnum):
    """What the bit's edge is."""

    BOWL = "bowl"
    FLAT = "flat"
    DOWN_CUT = "down-cut"
    V = "v"
    ROUND_OVER = "round-over"


@dataclass(frozen=True, slots=True)
class Cutter:
    """A bit. `corner_radius_in` is a bowl bit's, half its diameter (a ball) where none is given; feeds in inches a
    minute; it enters the wood down a slope of `ramp_degrees` along its path, straight down at the plunge feed where
    that is 0. The defaults are a small workshop's: common practice, no source."""

    shape: str
    diameter_in: float
    corner_radius_in: float | None = None
    angle_degrees: float | None = None
    tip_in: float = 0.0
    flutes: int = 2
    rpm: float = 18_000
    feed_in_per_min: float = 100.0
    plunge_in_per_min: float = 30.0
    depth_per_pass_in: float = 0.25
    ramp_degrees: float = 0.0

    def __post_init__(self) -> None:
        if self.shape not in set(CutterShape):
            raise CuttingError(f"“{self.shape}” is no shape of a bit; it is one of {', '.join(CutterShape)}.")
        for name in ("diameter_in", "rpm", "feed_in_per_min", "plunge_in_per_min", "depth_per_pass_in"):
            _check(f"The bit’s {_said(name)}", getattr(self, name))
        if self.depth_per_pass_in < SHALLOWEST_IN - HAIR:
            raise CuttingError(f"A bit goes 1/64 in deep at once or more, not {self.depth_per_pass_in:g}.")
        angle = self.angle_degrees
        if angle is not None and not LEAST_ANGLE_DEGREES <= angle <= MOST_ANGLE_DEGREES:
            raise CuttingError(
                f"A bit’s angle is {LEAST_ANGLE_DEGREES} to {MOST_ANGLE_DEGREES} degrees, not {angle:g}."
            )
        if not 0 <= self.tip_in <= self.diameter_in:
            raise CuttingError(f"A bit’s tip is 0 to {self.diameter_in:g} in wide, as the bit is, not {self.tip_in:g}.")
        if not (isfinite(self.flutes) and self.flutes >= 1):
            raise CuttingError(f"A bit has 1 flute or more, not {self.flutes}.")
        if not (isfinite(self.ramp_degrees) and 0 <= self.ramp_degrees <= STEEPEST_RAMP_DEGREES):
            raise CuttingError(
                f"A bit enters down a slope of 0 to {STEEPEST_RAMP_DEGREES} degrees, not {self.ramp_degrees:g}; "
                "0 is straight down."
            )
        if self.corner_radius_in is not None and not 0 <= self.corner_radius_in <= self.diameter_in / 2:
            raise CuttingError("The corner radius of a bit is at most half its diameter.")

    def level_in(self, depth_in: float) -> float:
        """How deep each of its levels is, down to a depth: all alike, as few as it allows."""
        _check("The depth of a cut", depth_in)
        return depth_in / max(1, ceil(depth_in / self.depth_per_pass_in - HAIR))

    @property
    def radius_in(self) -> float:
        return self.diameter_in / 2

    @property
    def corner_in(self) -> float:
        """How round its lower edge is: 0 for a flat bit."""
        if self.shape != CutterShape.BOWL:
            return 0.0
        return self.radius_in if self.corner_radius_in is None else self.corner_radius_in

    @property
    def flat_in(self) -> float:
        """The flat part of its underside."""
        return self.diameter_in - 2 * self.corner_in


@dataclass(frozen=True, slots=True)
class Machine:
    """A router: moves without cutting (inches a minute), how fast it gathers speed (inches a second²), how high over
    the wood it travels (inches). The defaults are a small workshop's: common practice, no source."""

    rapid_in_per_min: float = 200.0
    acceleration_in_per_s2: float = 20.0
    retract_in: float = 0.25

    def __post_init__(self) -> None:
        for name in ("rapid_in_per_min", "acceleration_in_per_s2"):
            _check(f"The router’s {_said(name)}", getattr(self, name))
        if not (isfinite(self.retract_in) and self.retract_in >= 0):
            raise CuttingError(f"The router lifts by 0 inches or more, not {self.retract_in:g}.")


def _check(what: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise CuttingError(f"{what} is more than 0, not {value:g}.")


def _said(name: str) -> str:
    return name.partition("_in")[0].replace("_", " ")
