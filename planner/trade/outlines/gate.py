"""The gate for SVG files: what comes through is plain shapes with numbers of a sensible size, and little of it.

What is refused is refused before any geometry is read, each with one sentence. A file is never kept or shown again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import isfinite
from typing import NamedTuple
from xml.etree.ElementTree import Element, ParseError, SubElement, tostring

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from planner.errors import OutlineError
from planner.trade.outlines.grammar import moves_fault, path_fault, points_fault
from planner.trade.outlines.seen import Look, is_drawn, style_of

MOST_BYTES = 1_000_000
MOST_ELEMENTS = 2_000
MOST_NUMBERS = 30_000
MOST_STROKES = 700
"""Two for each shape, filled and edged, and one for each line."""
DEEPEST = 32
LARGEST = 1_000_000

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
FRAMES = {"svg", "g"}
SILENT = {"title", "desc", "metadata", "defs"}
WHAT_ELSE = {
    "script": "carries a script",
    "use": "repeats shapes by reference (use)",
    "image": "has a picture in it",
    "style": "has a style sheet in it",
    "foreignObject": "has a foreign object in it",
    "text": "has text in it: turn letters into outlines",
}
GEOMETRY = {"d", "points", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width", "height"}
LENGTHS = GEOMETRY - {"d", "points"}

_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_COMMAND = re.compile(r"[a-df-zA-DF-Z]")
_NO_NUMBER = re.compile(r"nan|inf", re.IGNORECASE)
_LENGTH = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*([a-z%]*)\s*", re.IGNORECASE)
INCHES = {
    "in": 1.0,
    "mm": 1 / 25.4,
    "cm": 1 / 2.54,
    "pt": 1 / 72,
    "pc": 1 / 6,
    "q": 1 / 101.6,
    "px": 1 / 96,
    "": 1 / 96,
}
"""Inches in one unit. Source: SVG 1.1 (2011), 7.10; CSS Values and Units 3, 6.2: 96 px are an inch."""
SAY_A_SIZE = {"in", "mm", "cm", "pt", "pc", "q"}

_STYLED = re.compile(
    r"(?:^|;)\s*(d|x|y|cx|cy|r|rx|ry|width|height|transform[a-z-]*|translate|scale|rotate)\s*:", re.IGNORECASE
)
NEVER_NEGATIVE = ("width", "height", "r", "rx", "ry")


class Safe(NamedTuple):
    """A drawing that came through: SVG text of shapes alone, in px at 96 an inch, and whether it named its units."""

    text: str
    says_its_size: bool


def safe_svg(data: bytes) -> Safe:
    """The shapes of an SVG file and nothing else. Raises OutlineError, in one sentence, for what is not let in."""
    root = _parsed(data)
    if root.tag != f"{SVG}svg":
        raise OutlineError("The file is XML but no SVG drawing; export the outline as SVG.")
    _check_everything(root)
    clean = Element("svg", {"xmlns": SVG[1:-1]})
    frame, says_its_size = _frame(root)
    clean.attrib |= frame
    if is_drawn(root):
        _copy(root, clean, Look().of(root))
    if not any(_local(each) in SHAPES for each in clean.iter()):
        raise OutlineError("The drawing has no shape in it.")
    return Safe(tostring(clean, encoding="unicode"), says_its_size)


def _parsed(data: bytes) -> Element:
    if len(data) > MOST_BYTES:
        raise OutlineError(
            f"The file has {len(data) / 1e6:.1f} MB; an outline needs less than {MOST_BYTES / 1e6:g} MB. "
            "Leave pictures out of it."
        )
    if data[:2] == b"\x1f\x8b":
        raise OutlineError("The file is compressed; save the drawing as plain SVG.")
    try:
        root: Element = fromstring(data, forbid_dtd=True, forbid_entities=True, forbid_external=True)
    except DefusedXmlException as error:
        raise OutlineError(
            "The file declares a document type or entities, which an outline doesn't need; save it as plain SVG."
        ) from error
    except (ParseError, ValueError, LookupError, RecursionError) as error:
        raise OutlineError("The file is no SVG that can be read: it is broken or something else.") from error
    return root


def _check_everything(root: Element) -> None:
    numbers = 0
    for place, (element, depth, is_silent) in enumerate(_walk(root)):
        if place == MOST_ELEMENTS:
            raise OutlineError(f"The drawing has more than {MOST_ELEMENTS} elements; an outline needs a few.")
        if depth > DEEPEST:
            raise OutlineError(f"The drawing is nested more than {DEEPEST} deep; ungroup it.")
        if _local(element) == "svg" and depth:
            raise OutlineError("The drawing has another drawing in it; take the outline out of it.")
        _check_kind(element, is_silent=is_silent)
        if not is_silent:
            _check_words(element)
        numbers += _check_numbers(element)
        if numbers > MOST_NUMBERS:
            raise OutlineError(f"The drawing has more than {MOST_NUMBERS // 2} points; simplify its outline.")


def _walk(root: Element) -> Iterator[tuple[Element, int, bool]]:
    """Every element, how deep it lies and whether nothing of it is drawn; files are nested deeper than Python is."""
    waiting = [(root, 0, False)]
    while waiting:
        element, depth, is_silent = waiting.pop()
        is_silent = is_silent or not element.tag.startswith(SVG) or _local(element) in SILENT or not is_drawn(element)
        yield element, depth, is_silent
        waiting += [(child, depth + 1, is_silent) for child in element]


def _check_kind(element: Element, *, is_silent: bool) -> None:
    name = _local(element)
    if name in WHAT_ELSE:
        raise OutlineError(f"The drawing {WHAT_ELSE[name]}; keep nothing but the outline's path.")
    if not is_silent and name not in SHAPES | FRAMES:
        raise OutlineError(f"The drawing has “{name[:20]}” in it, which says no outline; leave it out.")
    for attribute in element.attrib:
        if attribute.rpartition("}")[2].lower().startswith("on"):
            raise OutlineError(f"The drawing carries a script ({attribute[:20]}); save it as plain SVG.")


def _check_words(element: Element) -> None:
    """What readers of SVG take in different ways, or pass over in silence, is refused: nobody would see it missing."""
    name = _name(element)
    if styled := _STYLED.search(style_of(element)):
        raise OutlineError(f"The {name} has its {styled[1]} in a style; save it as plain SVG.")
    if _local(element) == "svg" and element.get("transform"):
        raise OutlineError("The drawing is turned or scaled as a whole; do that to a group of its shapes.")
    if element.get("transform-origin"):
        raise OutlineError(f"The {name} is turned about a point of its own (transform-origin); draw it in place.")
    if (move := moves_fault(element.get("transform", ""))) is not None:
        raise OutlineError(f"The {name} is moved by “{move}”, which SVG doesn't know; draw it in place.")
    if (fault := path_fault(element.get("d", ""))) is not None:
        raise OutlineError(f"The drawing has a path that can't be read from “{fault}” on; draw it anew.")
    if sum(map(element.get("d", "").lower().count, "mz")) > 2 * MOST_STROKES:
        raise OutlineError(f"The drawing has more than {MOST_STROKES} shapes and lines; keep the outline and a few.")
    if points_fault(points := element.get("points", "")):
        raise OutlineError(f"The {name}'s points are not pairs of numbers (“{points[:20]}”); draw it anew.")
    for key in sorted(LENGTHS & set(element.attrib)):
        _check_length(element, key)


def _check_length(element: Element, key: str) -> None:
    said = element.get(key, "").strip()
    what = f"The {_name(element)}'s {key} is “{said[:20]}”"
    match = _LENGTH.fullmatch(said)
    if not match or match[2].lower() not in INCHES.keys() | {"%"}:
        raise OutlineError(f"{what}, which is no length on paper; write it in in or mm.")
    if key in NEVER_NEGATIVE and float(match[1]) < 0:
        raise OutlineError(f"{what}, less than 0; draw it anew.")
    if match[2] == "%" and key in {"r", "rx", "ry"}:
        raise OutlineError(f"{what}, a share of the window; write it in in or mm.")


def _check_numbers(element: Element) -> int:
    """How many there are, commands of a path counted in; a number that is none or is giant is refused."""
    count = 0
    for name in GEOMETRY | {"transform", "viewBox"}:
        text = element.get(name, "")
        if _NO_NUMBER.search(text):
            raise OutlineError(f"The drawing has a number that is none in its {name}; draw the outline anew.")
        count += len(_COMMAND.findall(text)) if name == "d" else 0
        for number in _NUMBER.findall(text):
            count += 1
            if not isfinite(value := float(number)) or abs(value) > LARGEST:
                raise OutlineError(f"The drawing has the number {number[:20]} in it, larger than any workshop.")
    return count


def _frame(root: Element) -> tuple[dict[str, str], bool]:
    """Width, height and viewBox in px, as far as the drawing has them, and whether both sides name their units."""
    sides = {side: _length(root.get(side)) for side in ("width", "height")}
    box = _view_box(root)
    said = [side for side in sides.values() if side and side[1] in SAY_A_SIZE]
    px = {name: side[0] * INCHES[side[1]] / INCHES["px"] for name, side in sides.items() if side}
    if box:
        if len(px) == 1:
            px |= (
                {"height": px["width"] * box[3] / box[2]}
                if "width" in px
                else {"width": px["height"] * box[2] / box[3]}
            )
        px = px or {"width": box[2], "height": box[3]}
    if any(side <= 0 for side in px.values()):
        raise OutlineError("The drawing is 0 wide or high; give it a size.")
    frame = {name: f"{side!r}" for name, side in px.items()}
    if box:
        frame["viewBox"] = " ".join(repr(value) for value in box)
        frame["preserveAspectRatio"] = _aspect(root)
    given = sum(root.get(side) is not None for side in sides)
    return frame, bool(said) and len(said) == given


def _aspect(root: Element) -> str:
    """As the drawing says it, if it says it in the standard's words. Source: SVG 1.1, 7.8."""
    said = root.get("preserveAspectRatio", "")
    said = said.strip().removeprefix("defer").strip()
    known = re.fullmatch(r"(none|x(Min|Mid|Max)Y(Min|Mid|Max))(\s+(meet|slice))?", said)
    return said if known else "xMidYMid meet"


def _length(text: str | None) -> tuple[float, str] | None:
    """Number and unit; None where it is missing, a share of the window or relative to type."""
    match = _LENGTH.fullmatch(text or "")
    unit = match[2].lower() if match else ""
    return (float(match[1]), unit) if match and unit in INCHES else None


def _view_box(root: Element) -> tuple[float, float, float, float] | None:
    numbers = [float(number) for number in _NUMBER.findall(root.get("viewBox", ""))]
    if not numbers:
        return None
    if len(numbers) != 4 or numbers[2] <= 0 or numbers[3] <= 0:
        raise OutlineError("The drawing's viewBox is not four numbers with a width and a height; save it anew.")
    return numbers[0], numbers[1], numbers[2], numbers[3]


def _copy(source: Element, target: Element, look: Look) -> None:
    """Shapes that are seen, and groups, with their geometry alone. The depth was checked, so recursion is shallow."""
    for child in source:
        name = _local(child)
        if not child.tag.startswith(SVG) or name not in SHAPES | {"g"} or not is_drawn(child):
            continue
        its_look = look.of(child)
        if name == "g":
            _copy(child, SubElement(target, name, _geometry(child)), its_look)
        elif its_look.is_seen:
            SubElement(target, name, _geometry(child))


def _geometry(element: Element) -> dict[str, str]:
    """What says its shape and place; lengths in px, shares of the window as they are."""
    kept = {key: value for key, value in element.attrib.items() if key in GEOMETRY | {"transform"}}
    for key in LENGTHS & set(kept):
        if length := _length(kept[key]):
            kept[key] = repr(length[0] * INCHES[length[1]] / INCHES["px"])
    return kept


def _name(element: Element) -> str:
    return {"svg": "drawing", "g": "group"}.get(_local(element), _local(element))


def _local(element: Element) -> str:
    return str(element.tag).rpartition("}")[2]
