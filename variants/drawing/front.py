"""The Pareto front as a chart: departure to the right, distance to the target upward.

Drawn like the flies: ink on paper, no colour that tells what words don't.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil
from xml.etree import ElementTree as ET

from variants.drawing.frame import Picture
from variants.drawing.paper import INK, PAPER, clean, number
from variants.regions import Adaptation

_SVG = "{http://www.w3.org/2000/svg}"
_WIDTH_MM, _HEIGHT_MM = 120.0, 80.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 16.0, 6.0, 12.0, 14.0
_FONT = "'Libertinus Serif', 'Linux Libertine', Georgia, serif"
_THOUSANDTHS = 1000
#: Points nearer to each other than this, in mm, share no room for two numbers.
_APART_MM = 3.4
_STEPS = (50, 100, 200, 250, 500, 1000, 2000)
_FAINT = "#b8ad97"


def front_chart(adaptation: Adaptation, *, pixels_per_mm: float = 7.0) -> Picture:
    """Return a chart of a front: each variant by its number, the one to tie first ringed.

    Raises
    ------
    ValueError
        When the front is empty.
    """
    if not adaptation.front:
        raise ValueError("a chart wants a front with at least one variant")
    ET.register_namespace("", "http://www.w3.org/2000/svg")
    paper = _Paper(adaptation, pixels_per_mm)
    paper.axes()
    paper.stairs()
    paper.points()
    return Picture(paper.written(), _WIDTH_MM, _HEIGHT_MM, paper.title)


class _Paper:
    def __init__(self, adaptation: Adaptation, pixels_per_mm: float) -> None:
        self._adaptation = adaptation
        base = adaptation.design.request.base.name
        target = adaptation.target
        self.title = clean(f"{base} for {target.place.name}, {target.natural.name}")
        front = adaptation.front
        distances = [adaptation.base_distance, *(one.distance for one in front)]
        self._wide = _round_up(max(one.departure for one in front))
        step = _step(max(distances) - min(distances))
        self._low = min(distances) // step * step
        self._high = max(-(-max(distances) // step) * step, self._low + step)
        self._steps = (_step(self._wide), step)
        self._root = ET.Element(
            f"{_SVG}svg",
            {
                "viewBox": f"0 0 {number(_WIDTH_MM)} {number(_HEIGHT_MM)}",
                "width": number(_WIDTH_MM * pixels_per_mm),
                "height": number(_HEIGHT_MM * pixels_per_mm),
                "role": "img",
            },
        )
        ET.SubElement(self._root, f"{_SVG}title").text = self.title
        ET.SubElement(self._root, f"{_SVG}desc").text = _told(adaptation)
        size = {"width": number(_WIDTH_MM), "height": number(_HEIGHT_MM), "fill": PAPER}
        ET.SubElement(self._root, f"{_SVG}rect", size)

    def written(self) -> str:
        return ET.tostring(self._root, encoding="unicode") + "\n"

    def _at(self, departure: float, distance: float) -> tuple[float, float]:
        wide, high = _WIDTH_MM - _LEFT - _RIGHT, _HEIGHT_MM - _TOP - _BOTTOM
        return (
            _LEFT + wide * departure / self._wide,
            _HEIGHT_MM - _BOTTOM - high * (distance - self._low) / (self._high - self._low),
        )

    def _line(self, points: Sequence[tuple[float, float]], ink: str, width: float) -> None:
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        told = {"d": path, "fill": "none", "stroke": ink, "stroke-width": number(width)}
        ET.SubElement(self._root, f"{_SVG}path", told)

    def _words(self, x: float, y: float, words: str, anchor: str, size: float = 3.0) -> None:
        told = {
            "x": number(x), "y": number(y), "font-family": _FONT, "font-size": number(size),
            "fill": INK, "text-anchor": anchor,
        }  # fmt: skip
        ET.SubElement(self._root, f"{_SVG}text", told).text = clean(words)

    def axes(self) -> None:
        """Draw both axes with their numbers, and what they measure."""
        self._words(_WIDTH_MM / 2, 6.5, self.title, "middle", 4.0)
        for value in range(0, self._wide + 1, self._steps[0]):
            x, y = self._at(value, self._low)
            self._line([(x, y), (x, _TOP)], _FAINT, 0.1)
            self._words(x, y + 4.0, f"{value / _THOUSANDTHS:g}", "middle")
        for value in range(self._low, self._high + 1, self._steps[1]):
            x, y = self._at(0, value)
            self._line([(x, y), (_WIDTH_MM - _RIGHT, y)], _FAINT, 0.1)
            self._words(x - 1.5, y + 1.0, f"{value / _THOUSANDTHS:g}", "end")
        corner = self._at(0, self._low)
        self._line([(corner[0], _TOP), corner, (_WIDTH_MM - _RIGHT, corner[1])], INK, 0.3)
        middle = (_LEFT + _WIDTH_MM - _RIGHT) / 2
        self._words(middle, _HEIGHT_MM - 3.5, "departure from the base", "middle", 3.4)
        turned = ET.SubElement(
            self._root, f"{_SVG}g", {"transform": f"rotate(-90 5 {number(_HEIGHT_MM / 2)})"}
        )
        told = {
            "x": "5", "y": number(_HEIGHT_MM / 2), "font-family": _FONT, "font-size": "3.4",
            "fill": INK, "text-anchor": "middle",
        }  # fmt: skip
        ET.SubElement(turned, f"{_SVG}text", told).text = "distance to the target"

    def stairs(self) -> None:
        """Draw the edge of what can be had: below it and to its left there is nothing."""
        front = self._adaptation.front
        corners = [self._at(front[0].departure, front[0].distance)]
        for before, after in pairwise(front):
            corners.append(self._at(after.departure, before.distance))
            corners.append(self._at(after.departure, after.distance))
        self._line(corners, INK, 0.15)

    def points(self) -> None:
        """Draw the variants with their numbers, and the dressing as written as a hollow ring."""
        x, y = self._at(0, self._adaptation.base_distance)
        self._ring(x, y, 1.0, PAPER)
        self._words(x + 2.2, y - 1.2, "as written", "start")
        last: tuple[float, float] | None = None
        for one in self._adaptation.front:
            x, y = self._at(one.departure, one.distance)
            is_first = one is self._adaptation.chosen
            if is_first:
                self._ring(x, y, 2.0, "none")
            self._ring(x, y, 0.8, INK)
            crowded = last and abs(x - last[0]) < _APART_MM and abs(y - last[1]) < _APART_MM
            if is_first or not crowded:
                self._words(x + 1.6, y - 1.4, str(one.variant.rank), "start")
                last = (x, y)

    def _ring(self, x: float, y: float, radius: float, fill: str) -> None:
        told = {
            "cx": number(x), "cy": number(y), "r": number(radius), "fill": fill, "stroke": INK,
            "stroke-width": "0.25",
        }  # fmt: skip
        ET.SubElement(self._root, f"{_SVG}circle", told)


def _told(adaptation: Adaptation) -> str:
    """Return the chart in words, for who can't see it."""
    told = [
        f"Variant {one.variant.rank} departs {one.departure / _THOUSANDTHS:.2f}"
        f" and is {one.distance / _THOUSANDTHS:.2f} from the target."
        for one in adaptation.front
    ]
    return " ".join(told)


def _step(span: int) -> int:
    return next((step for step in _STEPS if span / step <= 8), max(span, 1))


def _round_up(most: int) -> int:
    step = _step(most)
    return max(step, ceil(most / step) * step)
