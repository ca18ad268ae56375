"""A drawing measured by a library for paths, not by the code that drew it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree as ET

from svgpathtools import Path, parse_path

SVG = "{http://www.w3.org/2000/svg}"


def groups(root: ET.Element, part: str) -> list[ET.Element]:
    """Everything that was drawn for a part."""
    return [one for one in root.iter(f"{SVG}g") if one.get("data-part") == part]


def marked(root: ET.Element, part: str, measure: str) -> list[ET.Element]:
    """What a part has that says it is of the measure computed."""
    return [
        one
        for group in groups(root, part)
        for one in group.iter()
        if one.get("data-measure") == measure
    ]


def path(element: ET.Element) -> Path:
    return parse_path(element.get("d", ""))


#: A line's beginning, and the first stretch of it: from a fibre's root to its tip.
_FIRST_STRETCH = re.compile(r"M[^a-zA-Z]*[lqc][^a-zA-Z]*")


def fibres_mm(root: ET.Element, part: str) -> Iterator[float]:
    """Yield how long the fibres of a part are: outlines that are neither wash nor blade."""
    for group in groups(root, part):
        for element in group.iter(f"{SVG}path"):
            if element.get("fill", "none") == "none" or element.get("fill-opacity"):
                continue
            for first in _FIRST_STRETCH.findall(element.get("d", "")):
                yield fibre_mm(parse_path(first))


def fibre_mm(drawn: Path) -> float:
    """How long a fibre is: one side of its outline, or all of an open line."""
    return float(drawn[0].length(error=1e-4))


def extent(drawn: Path) -> tuple[float, float]:
    """How wide and how high."""
    left, right, top, bottom = drawn.bbox()
    return right - left, bottom - top
