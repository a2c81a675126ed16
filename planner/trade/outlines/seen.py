"""Which shapes of a drawing anybody sees: a hidden, see-through or unpainted one is no outline.

Source: SVG 1.1 (2011), 11.3 to 11.5 (painting) and 14.5 (opacity); CSS: later declarations come before earlier ones.
"""

from __future__ import annotations

import re
from typing import NamedTuple
from xml.etree.ElementTree import Element

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SEEN_THROUGH = re.compile(
    r"none|transparent|(?:rgb|hsl)a?\([^()]*[,/]\s*(?:0+(?:\.0*)?|\.0+)%?\s*\)|#[0-9a-f]{3}0|#[0-9a-f]{6}00"
)
_FOUR_PARTS = re.compile(r"(?:rgb|hsl)a?\((?:[^,]*,){3}[^,]*\)|(?:rgb|hsl)a?\([^/]*/[^/]*\)|none|transparent|#.*")


class Look(NamedTuple):
    """What shapes take over from the groups they are in.

    A shape that isn't filled and says nothing of its edge is meant as a line, though strictly nobody would see it.
    """

    fill: str = "black"
    fill_opacity: str = "1"
    stroke: str = "unsaid"
    stroke_opacity: str = "1"
    stroke_width: str = "1"
    visibility: str = "visible"

    def of(self, element: Element) -> Look:
        """Of an element inside; what it doesn't say is as outside."""
        said = {name: stated(element, name.replace("_", "-")) for name in self._fields}
        return self._replace(**{name: value for name, value in said.items() if value not in {"", "inherit"}})

    @property
    def is_seen(self) -> bool:
        filled = not _is_see_through(self.fill) and not is_nothing(self.fill_opacity)
        is_a_line = self.fill == "none" if self.stroke == "unsaid" else not _is_see_through(self.stroke)
        edged = is_a_line and not is_nothing(self.stroke_opacity)
        return self.visibility == "visible" and (filled or (edged and not is_nothing(self.stroke_width)))


def is_drawn(element: Element) -> bool:
    """Not where it, and with it all inside it, is left out or seen through."""
    return stated(element, "display") != "none" and not is_nothing(stated(element, "opacity"))


def stated(element: Element, name: str) -> str:
    """A property, its style before its attribute."""
    value = element.get(name, "")
    for each in style_of(element).split(";"):
        key, _, said = each.partition(":")
        if key.strip().lower() == name:
            value = said.partition("!")[0]
    return value.strip().lower()


def style_of(element: Element) -> str:
    return _COMMENT.sub("", element.get("style", ""))


def is_nothing(amount: str) -> bool:
    """Whether a number, a share or a length is 0 or less; what is none of these is passed over, as in SVG."""
    number = re.match(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?", amount)
    return number is not None and float(number[0]) <= 0


def _is_see_through(paint: str) -> bool:
    return bool(_SEEN_THROUGH.fullmatch(paint)) and bool(_FOUR_PARTS.fullmatch(paint))
