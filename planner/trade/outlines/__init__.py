"""Outlines of designs: from parameters, from a drawing, grown and drawn in, and what is wrong with them."""

from planner.trade.outlines.drawing import Drawing, read_svg
from planner.trade.outlines.findings import Finding, Limits, check_outline, eased
from planner.trade.outlines.polygons import polygon_from
from planner.trade.outlines.rim import grown, inset
from planner.trade.outlines.shapes import Point, outline_of, polygon_of

__all__ = [
    "Drawing",
    "Finding",
    "Limits",
    "Point",
    "check_outline",
    "eased",
    "grown",
    "inset",
    "outline_of",
    "polygon_from",
    "polygon_of",
    "read_svg",
]
