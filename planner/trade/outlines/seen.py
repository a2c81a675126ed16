"""What of a drawing anybody sees: what is displayed, shown and painted, by its attributes and styles.

Source: SVG 1.1 (2011), 6.4, 11 and 14.5; CSS Color 3, 3.2: what lies beyond 0 and 1 of opacity counts as 0 and 1.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from xml.etree.ElementTree import Element

INHERITED = {
    "visibility": "visible",
    "fill": "black",
    "fill-opacity": "1",
    "stroke": "none",
    "stroke-opacity": "1",
    "stroke-width": "1",
}
"""What comes down from a group to its shapes, as it is where nobody says anything."""
FROM_ABOVE = {"", "inherit", "unset"}

_COMMENT = re.compile(r"/\*.*?(?:\*/|\Z)", re.DOTALL)
_NOUGHT = r"[-+]?(?:0+(?:\.0*)?|\.0+)(?:e[-+]?[0-9]+)?"
_ZERO = re.compile(rf"{_NOUGHT}(?:[a-z]+|%)?")
_BELOW_ZERO = re.compile(r"-[0-9.]+(?:e[-+]?[0-9]+)?%?")
_CLEAR = re.compile(
    rf"none|transparent|#[0-9a-f]{{3}}0|#[0-9a-f]{{6}}00"
    rf"|(?:rgb|hsl)a?\((?:[^,/]*,[^,/]*,[^,/]*,|[^,/]*/)\s*{_NOUGHT}%?\s*\)"
)


def style_of(element: Element) -> dict[str, str]:
    """The properties that its style sets, in small letters. Of two alike the later holds, unless only one is urged."""
    found: dict[str, str] = {}
    urged: set[str] = set()
    for each in _COMMENT.sub(" ", element.get("style", "")).lower().split(";"):
        key, _, value = each.partition(":")
        name = key.strip()
        said, mark, _ = value.partition("!")
        if mark or name not in urged:
            found[name] = said.strip()
        if mark:
            urged.add(name)
    return found


def is_displayed(element: Element) -> bool:
    """Not where it, and with it all inside it, is left out or seen through."""
    style = style_of(element)
    opacity = _said(element, style, "opacity")
    return _said(element, style, "display") != "none" and not _is_nought(opacity)


def look_of(element: Element, above: Mapping[str, str]) -> dict[str, str]:
    """How it is painted, and the shapes in it that don't say otherwise."""
    style = style_of(element)
    said = {name: _said(element, style, name) for name in INHERITED}
    return {
        name: above[name] if value in FROM_ABOVE else INHERITED[name] if value == "initial" else value
        for name, value in said.items()
    }


def is_seen(look: Mapping[str, str]) -> bool:
    """A shape that looks so has a filling or an edge, and is shown."""
    is_filled = not _CLEAR.fullmatch(look["fill"]) and not _is_nought(look["fill-opacity"])
    is_edged = (
        not _CLEAR.fullmatch(look["stroke"])
        and not _is_nought(look["stroke-opacity"])
        and not _ZERO.fullmatch(look["stroke-width"])
    )
    return look["visibility"] not in {"hidden", "collapse"} and (is_filled or is_edged)


def _is_nought(opacity: str) -> bool:
    return bool(_ZERO.fullmatch(opacity) or _BELOW_ZERO.fullmatch(opacity))


def _said(element: Element, style: Mapping[str, str], name: str) -> str:
    return style.get(name) or element.get(name, "").strip().lower()
