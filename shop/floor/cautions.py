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

SHORT_PIECES = (
    "Short pieces kick back: rip the long piece and crosscut it afterwards; nothing under 12 in long goes through by "
    "itself. Push stick or block where a strip is narrower than 6 in, riving knife and guard on, nobody in line with "
    "the blade, dust drawn off, eyes and ears covered. The saw’s manual comes first."
)
"""Source: makers’ manuals of table saws (narrower than 6 in or shorter than 12 in: push stick or block)."""


def caution_for(kind: str) -> str:
    """The sentence for a kind of step, or none where nothing out of the usual can hurt."""
    return CAUTIONS.get(kind, "")


REMEDIES = {
    "wipe": (
        "What is left has gone tacky. Wet it with a little fresh oil, give it some minutes to soften, wipe it all off, "
        "and let it dry as after any wiping."
    ),
    "peel": "The paint has hardened over the edge. Cut along the mask with a sharp knife, then peel slowly and low.",
    "paint": "The coat below has hardened. Scuff it with fine paper, brush off the dust, go on if the label agrees.",
    "seal": "Brush it clean again before the coat goes on.",
    "glue": "The glue has skinned over. Scrape it off, joint the edges afresh and begin again.",
}
_LATE = "Look at it before going on; the maker's label says whether it can still be done."


def remedy_for(kind: str) -> str:
    """What to do when the window before a step of this kind has been missed. Common practice, no source."""
    return REMEDIES.get(kind, _LATE)
