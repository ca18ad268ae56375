"""Names of parts beside a drawing, each at the end of a line that crosses no other.

Lines go straight up or down from the parts; names stand in steps, the last part's nearest, so that
every line passes on the free side of all names. Nothing here knows what a fly is.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from variants.pictures.frame import width_of, write
from variants.pictures.paper import INK, PAPER, Point, number

SIZE_MM = 1.05
LINE_MM = 1.35
_ROW_GAP_MM = 0.45
_APART_MM = 0.8
_BESIDE_MM = 0.3
_SLANT_MM = 0.5
_CLEAR_MM = 0.4
_WIDTH = 34


@dataclass(frozen=True, slots=True)
class Callout:
    """One name and its line.

    Attributes
    ----------
    words : tuple of str
        Line by line.
    leader : tuple of Point
        From the part to the name, in mm.
    left_mm, top_mm : float
        The upper left corner of the name.
    width_mm, height_mm : float
    """

    words: tuple[str, ...]
    leader: tuple[Point, ...]
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


def place_callouts(
    wanted: Sequence[tuple[Point, str]], edge_mm: float, *, above: bool
) -> list[Callout]:
    """Return callouts for places, below or above a drawing.

    Parameters
    ----------
    wanted : sequence of (Point, str)
        Where to point, and what to write there.
    edge_mm : float
        The drawing's lower edge, or its upper one.
    above : bool

    Notes
    -----
    Lines leave their places straight up or down, slant to the right beyond the drawing's edge as
    far as they must to stand apart, and go on straight: they keep their order and cannot cross.
    The name of the rightmost stands nearest to the drawing and runs to the right of its line; the
    next one's line passes left of it. Places that stand over one another are pointed at a little
    to the right.
    """
    way = -1.0 if above else 1.0
    placed: list[tuple[Point, float, tuple[str, ...]]] = []
    free = beside = float("-inf")
    for (across, height), words in sorted(wanted):
        start = max(across, beside)
        x = max(start, free)
        beside, free = start + _BESIDE_MM, x + _APART_MM
        lines = tuple(textwrap.wrap(words, _WIDTH, break_long_words=True)) or ("",)
        placed.append(((start, height), x, lines))
    found = []
    far = edge_mm + way * (_SLANT_MM + _CLEAR_MM)
    for place, x, lines in reversed(placed):
        high = LINE_MM * len(lines)
        top = far if not above else far - high
        middle = top + (LINE_MM * 0.55 if not above else high - LINE_MM * 0.45)
        slant = [(place[0], edge_mm), (x, edge_mm + way * _SLANT_MM)] if x > place[0] else []
        leader = (place, *slant, (x, middle), (x + 0.5, middle))
        wide = max(width_of(line, SIZE_MM) for line in lines)
        found.append(Callout(lines, leader, x + 0.7, top, wide, high))
        far += way * (high + _ROW_GAP_MM)
    return found


def draw_callouts(svg: ET.Element, callouts: Sequence[Callout]) -> None:
    """Draw callouts: lines with a halo of paper, a ring where they point, and the names."""
    group = ET.SubElement(svg, "g", {"data-part": "callouts", "fill": "none"})
    for one in callouts:
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in one.leader)
        for ink, wide in ((PAPER, "0.26"), (INK, "0.06")):
            look = {"d": path, "stroke": ink, "stroke-width": wide, "stroke-linejoin": "round"}
            if ink == INK:
                look["data-measure"] = "leader"
            ET.SubElement(group, "path", look)
        x, y = one.leader[0]
        ET.SubElement(
            group, "circle",
            {"cx": number(x), "cy": number(y), "r": "0.2", "fill": PAPER, "stroke": INK,
             "stroke-width": "0.06"},
        )  # fmt: skip
    for one in callouts:
        for line, words in enumerate(one.words):
            write(svg, one.left_mm, one.top_mm + LINE_MM * (line + 0.8), words, size_mm=SIZE_MM)


def draw_bracket(svg: ET.Element, span: tuple[Point, Point]) -> None:
    """Draw a bracket under a part that runs along the shank."""
    (x0, y0), (x1, y1) = span
    path = (
        f"M{number(x0)} {number(y0 - 0.22)}L{number(x0)} {number(y0)}"
        f"L{number(x1)} {number(y1)}L{number(x1)} {number(y1 - 0.22)}"
    )
    for ink, wide in ((PAPER, "0.26"), (INK, "0.07")):
        ET.SubElement(svg, "path", {"d": path, "fill": "none", "stroke": ink, "stroke-width": wide})
