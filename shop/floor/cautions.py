"""What can hurt, said in one place for every page and paper: a kind of step, and its short sentence.

Common practice, no source; the maker's label and local rules win, and each sentence that rests on them says so.
"""

from __future__ import annotations

_AIR = "Air the room while it is wet and while it dries; gloves and mask as the maker's label and local rules say."
_RAGS = (
    "Rags with oil can catch fire by themselves: today still, lay them flat outdoors or into a metal can filled with "
    "water, as the maker's label and local rules say."
)

CAUTIONS = {
    "rip": "Guard and riving knife on, push stick in hand, ears and eyes covered, dust drawn off.",
    "flatten": "Ears and eyes covered, dust drawn off, no loose sleeves; no piece too short for the rollers.",
    "cut": "Guard and riving knife on, push stick in hand, ears and eyes covered, dust drawn off.",
    "router": (
        "Dust drawn off, ears and eyes covered. Work and clamps held down clear of the bit's way. "
        "Never leave it cutting alone; spindle still before a hand goes in."
    ),
    "carve": (
        "Dust drawn off, ears and eyes covered. Work held down clear of the bit's way; never leave it cutting alone."
    ),
    "sand": "Dust drawn off and a mask on; some woods' dust irritates skin and lungs.",
    "laser": "Watch it the whole time, extraction on, extinguisher at hand; it can set wood alight. Lid shut.",
    "seal": _AIR,
    "paint": _AIR,
    "oil": _RAGS,
    "wipe": _RAGS,
    "pack": "For food only when the finish is fully cured, by the maker's label.",
}


def caution_for(kind: str) -> str:
    """The sentence for a kind of step, or none where nothing out of the usual can hurt."""
    return CAUTIONS.get(kind, "")
