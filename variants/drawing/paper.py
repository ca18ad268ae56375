"""The paper that a fly is drawn on: SVG elements in millimetres, the head to the left.

Places along the shank are told as in the layout, from the bend forward, and heights upward; the
paper turns them into SVG's own directions. Text goes through the XML writer, so nothing in a name
can be markup.
"""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

Point = tuple[float, float]
INK = "#2b2620"
PAPER = "#f7f1e3"
#: Digits after the point: a hundredth of a millimetre, a fifth of a hair.
_DIGITS = 2
#: Luma, 0 to 255, above which a line is hard to see on the paper.
_PALE = 185.0


@dataclass
class Paper:
    """What is drawn so far.

    Attributes
    ----------
    shank_mm : float
        Where the eye is, from the bend.
    chance : random.Random
        Seeded by the fly, so that the same fly is the same drawing.
    root : Element
        A group that everything is put into.
    """

    shank_mm: float
    chance: random.Random
    root: ET.Element = field(default_factory=lambda: ET.Element("g"))
    low: list[float] = field(default_factory=lambda: [0.0, 0.0])
    high: list[float] = field(default_factory=lambda: [0.0, 0.0])

    def group(self, part: str, **told: str) -> ET.Element:
        """Begin a group for a part."""
        return ET.SubElement(self.root, "g", {"data-part": part, **_dashed(told)})

    def inner(self, group: ET.Element, **told: str) -> ET.Element:
        """Begin a group within a part's group."""
        return ET.SubElement(group, "g", _dashed(told))

    def at(self, along: float, up: float) -> Point:
        """Return SVG coordinates of a place along the shank and a height."""
        point = (self.shank_mm - along, -up)
        for axis in (0, 1):
            self.low[axis] = min(self.low[axis], point[axis])
            self.high[axis] = max(self.high[axis], point[axis])
        return point

    def line(
        self, group: ET.Element, points: Iterable[Point], ink: str, width: float, **told: str
    ) -> None:
        """Draw an open line through places (along, up)."""
        drawn = [self.at(*point) for point in points]
        # What is not filled is the rule on this paper: the root group says so once.
        attributes = {"d": _path(drawn), "stroke": ink, "stroke-width": number(width)}
        last = group[-1] if len(group) and not told else None
        if last is not None and {**last.attrib, "d": ""} == {**attributes, "d": ""}:
            last.set("d", last.get("d", "") + attributes["d"])
            return
        ET.SubElement(group, "path", {**attributes, **_dashed(told)})

    def shape(self, group: ET.Element, points: Iterable[Point], fill: str, ink: str = INK,
              width: float = 0.04, **told: str) -> None:  # fmt: skip
        """Draw a filled outline."""
        drawn = [self.at(*point) for point in points]
        attributes = {
            "d": _path(drawn) + "Z", "fill": fill, "stroke": ink, "stroke-width": number(width),
            "stroke-linejoin": "round",
        }  # fmt: skip
        ET.SubElement(group, "path", {**attributes, **_dashed(told)})

    def circle(self, group: ET.Element, middle: Point, radius: float, fill: str, ink: str = INK,
               width: float = 0.05, **told: str) -> None:  # fmt: skip
        """Draw a circle."""
        for side in (-radius, radius):
            self.at(middle[0] + side, middle[1] + side)
        x, y = self.at(*middle)
        attributes = {
            "cx": number(x), "cy": number(y), "r": number(radius), "fill": fill, "stroke": ink,
            "stroke-width": number(width),
        }  # fmt: skip
        ET.SubElement(group, "circle", {**attributes, **_dashed(told)})


def number(value: float) -> str:
    """Return a number as SVG has it, short."""
    return f"{round(value, _DIGITS) + 0.0:.{_DIGITS}f}".rstrip("0").rstrip(".") or "0"


def _point(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(map(_point, points))


def _dashed(told: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in told.items()}


def shaded(ink: str, share: float) -> str:
    """Return a colour darker (share below 0) or lighter (above) by a share of what there is."""
    channels = [int(ink[place : place + 2], 16) for place in (1, 3, 5)]
    towards = 255 if share > 0 else 0
    mixed = [round(one + (towards - one) * abs(share)) for one in channels]
    return "#" + "".join(f"{one:02x}" for one in mixed)


def is_pale(ink: str) -> bool:
    """Tell whether a colour is nearly as light as the paper (luma of ITU-R BT.601)."""
    red, green, blue = (int(ink[place : place + 2], 16) for place in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue > _PALE
