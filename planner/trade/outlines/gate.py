"""The gate for SVG files: what comes through is plain shapes with numbers of a sensible size, and little of it.

What is refused is refused before any geometry is read, each with one sentence. A file is never kept or shown again.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import NamedTuple
from xml.etree.ElementTree import Element, ParseError, SubElement, tostring

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from planner.errors import OutlineError
from planner.trade.outlines.grammar import (
    SHARE,
    Length,
    check_amount,
    length_of,
    moves_of,
    numbers_in,
    path_of,
    points_of,
)
from planner.trade.outlines.seen import INHERITED, is_displayed, is_seen, look_of, style_of

MOST_BYTES = 1_000_000
MOST_ELEMENTS = 2_000
MOST_STROKES = 700
MOST_MOVES = 30_000
DEEPEST = 32

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
MEASURES = {
    "rect": ("x", "y", "width", "height", "rx", "ry"),
    "circle": ("cx", "cy", "r"),
    "ellipse": ("cx", "cy", "rx", "ry"),
    "line": ("x1", "y1", "x2", "y2"),
}
NEEDED = {"rect": {"width", "height"}, "circle": {"r"}, "ellipse": {"rx", "ry"}}
"""What readers of SVG put in where it is missing: nothing, all of the drawing, or as much as the other way."""
NEVER_NEGATIVE = {"width", "height", "r", "rx", "ry"}
NEVER_A_SHARE = {"r", "rx", "ry"}
SAY_A_SIZE = {"in", "mm", "cm", "pt", "pc", "q"}
SIZED = {"d", "x", "y", "cx", "cy", "r", "rx", "ry", "width", "height"}
MOVED = {"transform", "transform-origin", "transform-box", "translate", "scale", "rotate"}


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
    frame, says_its_size = _frame(root)
    clean = Element("svg", {"xmlns": SVG[1:-1]} | frame)
    if is_displayed(root):
        _copy(root, clean, look_of(root, INHERITED))
    if not any(each.tag in SHAPES for each in clean.iter()):
        raise OutlineError(_nothing_seen(root))
    _check_amount(clean)
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
    for place, (element, depth, is_silent) in enumerate(_walk(root)):
        if place == MOST_ELEMENTS:
            raise OutlineError(f"The drawing has more than {MOST_ELEMENTS} elements; an outline needs a few.")
        if depth > DEEPEST:
            raise OutlineError(f"The drawing is nested more than {DEEPEST} deep; ungroup it.")
        if _local(element) == "svg" and depth:
            raise OutlineError("The drawing has another drawing in it; take the outline out of it.")
        _check_kind(element, is_silent=is_silent)
        if not is_silent:
            _check_style(element)


def _walk(root: Element) -> Iterator[tuple[Element, int, bool]]:
    """Every element, how deep it lies and whether nothing of it is drawn; files are nested deeper than Python is."""
    waiting = [(root, 0, False)]
    while waiting:
        element, depth, is_silent = waiting.pop()
        is_silent = (
            is_silent or not element.tag.startswith(SVG) or _local(element) in SILENT or not is_displayed(element)
        )
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


def _check_style(element: Element) -> None:
    """What readers of SVG take in different ways, or pass over in silence, is refused: nobody would see it missing."""
    name = "drawing" if _local(element) == "svg" else _local(element)
    style = style_of(element)
    if "\\" in element.get("style", ""):
        raise OutlineError(f"The {name}'s style has a backslash in it; save it as plain SVG.")
    if sized := next((key for key in style if key in SIZED), ""):
        raise OutlineError(f"The {name} has its size or place in its style ({sized}); save it as plain SVG.")
    if moved := next((key for key in style if key in MOVED), ""):
        raise OutlineError(f"The {name} is moved in its style ({moved}); save it as plain SVG.")
    if element.get("transform-origin"):
        raise OutlineError(f"The {name} is turned about a place of its own (transform-origin); save it as plain SVG.")
    if name == "drawing" and element.get("transform"):
        raise OutlineError("The drawing is turned or scaled as a whole; do that to a group of its shapes.")


def _frame(root: Element) -> tuple[dict[str, str], bool]:
    """Width, height and viewBox in px, as far as the drawing has them, and whether its sides name their units.

    A side in shares of the window names none, and takes what the other says from it: together they are as large as
    the window lets them be.
    """
    said = {side: root.get(side, "").strip() for side in ("width", "height")}
    sides = {side: _measure(text, side, "drawing") for side, text in said.items() if text not in {"", "auto"}}
    box = _view_box(root)
    px = {name: side.value for name, side in sides.items() if side.unit != SHARE}
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
    return frame, bool(sides) and all(side.unit in SAY_A_SIZE for side in sides.values())


def _aspect(root: Element) -> str:
    """As the drawing says it, if it says it in the standard's words. Source: SVG 1.1, 7.8."""
    said = root.get("preserveAspectRatio", "")
    said = said.strip().removeprefix("defer").strip()
    known = re.fullmatch(r"(none|x(Min|Mid|Max)Y(Min|Mid|Max))(\s+(meet|slice))?", said)
    return said if known else "xMidYMid meet"


def _view_box(root: Element) -> tuple[float, float, float, float] | None:
    said = root.get("viewBox", "")
    if not said.strip():
        return None
    numbers = numbers_in(said)
    if not numbers or len(numbers) != 4 or numbers[2] <= 0 or numbers[3] <= 0:
        raise OutlineError("The drawing's viewBox is not four numbers with a width and a height; save it anew.")
    return numbers[0], numbers[1], numbers[2], numbers[3]


def _copy(source: Element, target: Element, look: Mapping[str, str]) -> None:
    """Shapes and groups with their geometry alone, as far as anybody sees them. The depth was checked, so recursion is
    shallow."""
    for child in source:
        name = _local(child)
        if not child.tag.startswith(SVG) or name not in SHAPES | {"g"} or not is_displayed(child):
            continue
        own_look = look_of(child, look)
        if name == "g":
            _copy(child, SubElement(target, name, _geometry(child, name)), own_look)
        elif is_seen(own_look):
            SubElement(target, name, _geometry(child, name))


def _geometry(element: Element, name: str) -> dict[str, str]:
    """Where and how large a shape is, each part written anew."""
    found = {}
    if "transform" in element.attrib:
        found["transform"] = moves_of(element.attrib["transform"], name)
    if name == "path":
        found["d"] = path_of(element.get("d", ""))
    if name in {"polyline", "polygon"}:
        found["points"] = points_of(element.get("points", ""), name)
    for key in MEASURES.get(name, ()):
        if (said := element.get(key, "").strip()) not in {"", "auto"}:
            length = _measure(said, key, name)
            found[key] = f"{length.value!r}{SHARE if length.unit == SHARE else ''}"
        elif key in NEEDED.get(name, ()):
            raise OutlineError(f"The {name} has no {key}; give it one, or take it out.")
    return found


def _measure(said: str, key: str, name: str) -> Length:
    length = length_of(said)
    if not length:
        raise OutlineError(f"The {name}'s {key} is “{said[:20]}”, which is no length; give it in mm or inches.")
    if length.value < 0 and key in NEVER_NEGATIVE:
        raise OutlineError(f"The {name}'s {key} is {said[:20]}, less than 0; draw it anew.")
    if length.unit == SHARE and key in NEVER_A_SHARE:
        raise OutlineError(f"The {name}'s {key} is {said[:20]}; give it as a length.")
    return length


def _check_amount(clean: Element) -> None:
    """What takes long to follow is refused: readers go back over a path at its every close, and over the moves of all
    the groups round a shape for every shape."""
    numbers, begun, closed, moves = 0, 0, 0, 0
    waiting = [(clean, 0)]
    while waiting:
        element, above = waiting.pop()
        here = above + element.get("transform", "").count("(")
        parts = Counter((element.get("d", "") + element.get("points", "")).split())
        moves += here
        numbers += sum(count for part, count in parts.items() if not part.isalpha())
        begun += parts["M"] + parts["m"] if "d" in element.attrib else element.tag in SHAPES
        closed += parts["Z"] + parts["z"]
        waiting += [(child, here) for child in element]
    check_amount(numbers)
    if max(begun, closed) > MOST_STROKES:
        raise OutlineError(
            f"The drawing has more than {MOST_STROKES} shapes and lines; draw the outline and its pockets."
        )
    if moves > MOST_MOVES:
        raise OutlineError(f"The drawing's shapes are moved more than {MOST_MOVES} times in all; ungroup them.")


def _nothing_seen(root: Element) -> str:
    if any(_local(each) in SHAPES for each in root.iter()):
        return "Nothing in the drawing is seen: its shapes are hidden, or have neither a filling nor an edge."
    return "The drawing has no shape in it."


def _local(element: Element) -> str:
    return str(element.tag).rpartition("}")[2]
