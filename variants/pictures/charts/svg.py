"""A sheet of SVG that charts are drawn on: groups, lines, boxes and words, in one manner.

Everything goes through the XML writer, so that no name can be markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.etree import ElementTree as ET

from variants.pictures.charts.look import LIGHT, SERIF
from variants.text import xml_safe

Element = ET.Element


def number(value: float) -> str:
    """Return a length as SVG has it, to a tenth."""
    return f"{round(value, 1) + 0.0:.1f}".rstrip("0").rstrip(".") or "0"


class Sheet:
    """A drawing in the making.

    Parameters
    ----------
    title, description : str
        For who can't see it.
    """

    def __init__(self, title: str, description: str) -> None:
        self.root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "role": "img"})
        ET.SubElement(self.root, "title").text = xml_safe(title)
        ET.SubElement(self.root, "desc").text = xml_safe(description)
        self._ground = ET.SubElement(self.root, "rect", {"fill": LIGHT["paper"]})
        self.top = self.group(None, font_family=SERIF, fill=LIGHT["ink"])

    def group(self, within: Element | None, **told: object) -> Element:
        """Begin a group."""
        return ET.SubElement(self.root if within is None else within, "g", _attributes(told))

    def line(
        self, within: Element, start: Sequence[float], end: Sequence[float], **told: object
    ) -> None:
        """Draw a straight line."""
        ends = dict(zip(("x1", "y1", "x2", "y2"), (*start, *end), strict=True))
        ET.SubElement(within, "line", _attributes({"stroke": LIGHT["ink"], **ends, **told}))

    def path(self, within: Element, points: Iterable[Sequence[float]], **told: object) -> Element:
        """Draw a line through points."""
        drawn = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        told = {"stroke": LIGHT["ink"], "fill": "none", **told}
        return ET.SubElement(within, "path", {"d": drawn, **_attributes(told)})

    def box(
        self, within: Element, x: float, y: float, wide: float, high: float, **told: object
    ) -> Element:
        """Draw a box."""
        sides = {"x": x, "y": y, "width": wide, "height": high}
        return ET.SubElement(within, "rect", _attributes({**sides, **told}))

    def dot(self, within: Element, x: float, y: float, radius: float, **told: object) -> None:
        """Draw a dot."""
        ET.SubElement(within, "circle", _attributes({"cx": x, "cy": y, "r": radius, **told}))

    def words(
        self, within: Element, x: float, y: float, words: str, size: float = 13, **told: object
    ) -> Element:
        """Write words on their base line."""
        place = {"x": x, "y": y, "font-size": size}
        text = ET.SubElement(within, "text", _attributes({**place, **told}))
        text.text = xml_safe(words)
        return text

    def titled(self, element: Element, words: str) -> None:
        """Give an element a name of its own, read aloud and shown under the pointer."""
        title = ET.Element("title")
        title.text = xml_safe(words)
        element.insert(0, title)

    def svg(self, width: float, height: float, *, declared_size: bool = True) -> str:
        """Return the whole document."""
        self.root.set("viewBox", f"0 0 {number(width)} {number(height)}")
        if declared_size:
            self.root.set("width", number(width))
            self.root.set("height", number(height))
        self._ground.set("width", number(width))
        self._ground.set("height", number(height))
        return ET.tostring(self.root, encoding="unicode") + "\n"


def _attributes(told: dict[str, object]) -> dict[str, str]:
    return {
        name.replace("_", "-"): xml_safe(value) if isinstance(value, str) else number(value)  # type: ignore[arg-type]
        for name, value in told.items()
        if value is not None
    }
