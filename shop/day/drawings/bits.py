"""A bit as its own silhouette: shank up, cutting edge down, as it hangs in the spindle."""

from __future__ import annotations

from dataclasses import dataclass

from planner import NM_PER_INCH
from shop.stock.models import Bit

WIDTH, HEIGHT = 40, 56
"""The frame that every bit is drawn in, so that a row of them reads like a row of keys."""

MIDDLE = WIDTH / 2
SHANK = 8  # half its width is 4: narrower than the narrowest cutter
SHOULDER = 20  # where the shank ends and the cutter begins
TIP = 52
LEAST_WIDTH, MOST_WIDTH = 9, 36
PILOT = 5  # half the width of the round-over's pilot


@dataclass(frozen=True, slots=True)
class Key:
    """One bit, ready to be drawn: its outline and the lines on it as SVG paths, and its size in inches."""

    name: str
    shape: str
    size_nm: int
    outline: str
    flutes: str

    @property
    def frame(self) -> str:
        return f"0 0 {WIDTH} {HEIGHT}"


def key_of(bit: Bit) -> Key:
    half = _half_width(bit.diameter_nm)
    outline, flutes = SHAPES[Bit.Shape(bit.shape)](half)
    return Key(bit.name, bit.get_shape_display(), bit.diameter_nm, f"{_shank()} {outline}", flutes)


def unknown_key(name: str) -> Key:
    """A bit that was planned with and is no longer in the rack: a shank with nothing on it."""
    return Key(name, "not in the rack", 0, _shank(), "")


def _half_width(diameter_nm: int) -> float:
    """Wider bits are drawn wider, within the frame."""
    return min(MOST_WIDTH, max(LEAST_WIDTH, 6 + 30 * diameter_nm / NM_PER_INCH)) / 2


def _shank() -> str:
    left = MIDDLE - SHANK / 2
    return f"M{left:g} 2h{SHANK}v{SHOULDER - 2}h-{SHANK}z"


def _box(half: float) -> str:
    return f"M{MIDDLE - half:g} {SHOULDER}H{MIDDLE + half:g}V{TIP}H{MIDDLE - half:g}z"


def _bowl(half: float) -> tuple[str, str]:
    """Round at the lower corners, flat between them."""
    corner = min(half, 11)
    left, right = MIDDLE - half, MIDDLE + half
    low = TIP - corner
    outline = (
        f"M{left:g} {SHOULDER}H{right:g}V{low:g}A{corner:g} {corner:g} 0 0 1 {right - corner:g} {TIP}"
        f"H{left + corner:g}A{corner:g} {corner:g} 0 0 1 {left:g} {low:g}z"
    )
    return outline, f"M{MIDDLE:g} {SHOULDER + 5}V{TIP - 5}"


def _flat(half: float) -> tuple[str, str]:
    """Square all over, with two straight flutes."""
    inset = half / 3
    return _box(half), f"M{MIDDLE - inset:g} {SHOULDER + 4}V{TIP - 4}M{MIDDLE + inset:g} {SHOULDER + 4}V{TIP - 4}"


def _down_cut(half: float) -> tuple[str, str]:
    """Square, with flutes that wind down."""
    left, width = MIDDLE - half, 2 * half
    rise = min(width, 9)
    turns = "".join(f"M{left:g} {y}l{width:g} {rise:g}" for y in range(SHOULDER + 3, TIP - 9, 8))
    return _box(half), turns


def _v(half: float) -> tuple[str, str]:
    """A collar, then two edges that meet in a point."""
    half = max(half, 13)
    left, right = MIDDLE - half, MIDDLE + half
    return f"M{left:g} {SHOULDER}H{right:g}V{SHOULDER + 8}L{MIDDLE:g} {TIP}L{left:g} {SHOULDER + 8}z", ""


def _round_over(half: float) -> tuple[str, str]:
    """Hollow on both sides, down to the pilot that runs along the edge."""
    reach = max(half, PILOT + 10) - PILOT
    left, right, waist = MIDDLE - PILOT - reach, MIDDLE + PILOT + reach, SHOULDER + 6
    low = waist + reach
    outline = (
        f"M{left:g} {SHOULDER}H{right:g}V{waist}A{reach:g} {reach:g} 0 0 0 {MIDDLE + PILOT:g} {low:g}"
        f"V{TIP}H{MIDDLE - PILOT:g}V{low:g}A{reach:g} {reach:g} 0 0 0 {left:g} {waist}z"
    )
    return outline, f"M{MIDDLE - PILOT:g} {TIP - 8}h{2 * PILOT}"


SHAPES = {
    Bit.Shape.BOWL: _bowl,
    Bit.Shape.FLAT: _flat,
    Bit.Shape.DOWN_CUT: _down_cut,
    Bit.Shape.V: _v,
    Bit.Shape.ROUND_OVER: _round_over,
}
