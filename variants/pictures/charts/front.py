"""The Pareto front of a dressing on a water: departure to the right, distance upward."""

from __future__ import annotations

from itertools import pairwise

from variants.explain.wording import departure_words
from variants.pictures import Picture
from variants.pictures.charts.look import LIGHT
from variants.pictures.charts.svg import Sheet
from variants.regions import Adaptation

_WIDE, _HIGH = 840.0, 560.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 96.0, 40.0, 76.0, 84.0
_STEPS = (10, 20, 50, 100, 200, 250, 500, 1000, 2000)
_MOST_LINES = 8
_THOUSANDTHS = 1000
#: Points nearer than this to the last one that was numbered go without a number.
_APART = 20.0


def front_chart(adaptation: Adaptation) -> Picture:
    """Return a chart of a front: each variant by its number, the one to tie first ringed.

    Raises
    ------
    ValueError
        When the front is empty.
    """
    if not adaptation.front:
        raise ValueError("a chart wants a front with at least one variant")
    target = adaptation.target
    base = adaptation.design.request.base.name
    title = f"{base} for {target.place.name}, {target.natural.name}"
    chart = _Chart(adaptation, Sheet(title, _describe(adaptation)))
    chart.sheet.words(chart.sheet.top, 20, 34, title, 20, font_weight="600")
    chart.axes()
    chart.stairs()
    chart.points()
    return Picture(chart.sheet.svg(_WIDE, _HIGH), _WIDE / 10, _HIGH / 10, title)


class _Chart:
    """The sheet, and where on it a departure and a distance stand."""

    def __init__(self, adaptation: Adaptation, sheet: Sheet) -> None:
        self.sheet, self._adaptation = sheet, adaptation
        front = adaptation.front
        distances = [adaptation.base_distance, *(one.distance for one in front)]
        most = max(one.departure for one in front)
        self._steps = (_step(most), _step(max(distances) - min(distances)))
        self._wide = max(-(-most // self._steps[0]), 1) * self._steps[0]
        self._low = min(distances) // self._steps[1] * self._steps[1]
        high = -(-max(distances) // self._steps[1]) * self._steps[1]
        self._high = max(high, self._low + self._steps[1])

    def _at(self, departs: float, distance: float) -> tuple[float, float]:
        wide, high = _WIDE - _LEFT - _RIGHT, _HIGH - _TOP - _BOTTOM
        share = (distance - self._low) / (self._high - self._low)
        return _LEFT + wide * departs / self._wide, _HIGH - _BOTTOM - high * share

    def axes(self) -> None:
        """Draw both axes with their numbers, and what they measure."""
        sheet, top = self.sheet, self.sheet.top
        for value in range(0, self._wide + 1, self._steps[0]):
            x, y = self._at(value, self._low)
            sheet.line(top, (x, y), (x, _TOP), stroke=LIGHT["rule"])
            told = f"{value / _THOUSANDTHS:g}"
            sheet.words(top, x, y + 24, told, 14, text_anchor="middle")
        for value in range(self._low, self._high + 1, self._steps[1]):
            x, y = self._at(0, value)
            sheet.line(top, (x, y), (_WIDE - _RIGHT, y), stroke=LIGHT["rule"])
            sheet.words(top, x - 10, y + 5, f"{value / _THOUSANDTHS:g}", 14, text_anchor="end")
        corner = self._at(0, self._low)
        sheet.path(top, [(_LEFT, _TOP), corner, (_WIDE - _RIGHT, corner[1])], stroke_width=1.6)
        middle = (_LEFT + _WIDE - _RIGHT) / 2
        sheet.words(top, middle, _HIGH - 26, "departure from the base", 15, text_anchor="middle")
        height = (_TOP + _HIGH - _BOTTOM) / 2
        sheet.words(top, 30, height, "distance to what is asked", 15, text_anchor="middle",
                    transform=f"rotate(-90 30 {height:g})")  # fmt: skip

    def stairs(self) -> None:
        """Draw the edge of what can be had: nothing lies below it and to its left."""
        front = self._adaptation.front
        corners = [self._at(front[0].departure, front[0].distance)]
        for before, after in pairwise(front):
            corners.append(self._at(after.departure, before.distance))
            corners.append(self._at(after.departure, after.distance))
        self.sheet.path(self.sheet.top, corners)

    def points(self) -> None:
        """Draw the variants with their numbers, and the dressing as written as a hollow dot."""
        sheet, top = self.sheet, self.sheet.top
        x, y = self._at(0, self._adaptation.base_distance)
        sheet.dot(top, x, y, 6, fill=LIGHT["paper"], stroke=LIGHT["ink"])
        sheet.words(top, x + 14, y - 8, "as written", 14, font_style="italic")
        last = (-_APART, -_APART)
        for one in self._adaptation.front:
            x, y = self._at(one.departure, one.distance)
            is_first = one is self._adaptation.chosen
            mark = sheet.group(top, data_variant=one.variant.rank * 1.0)
            sheet.titled(mark, _words(one.variant.rank, one.departure, one.distance))
            if is_first:
                sheet.dot(mark, x, y, 13, fill="none", stroke=LIGHT["changed"], stroke_width=1.6)
            sheet.dot(mark, x, y, 5, fill=LIGHT["ink"])
            if is_first or max(abs(x - last[0]), abs(y - last[1])) >= _APART:
                sheet.words(mark, x + 12, y - 9, str(one.variant.rank), 14)
                last = (x, y)


def _words(rank: int, departs: int, distance: int) -> str:
    departure, apart = departure_words(departs), departure_words(distance)
    return f"variant {rank} departs {departure}, {apart} from what is asked"


def _describe(adaptation: Adaptation) -> str:
    """Return the chart in words, for who can't see it."""
    told = [_words(one.variant.rank, one.departure, one.distance) for one in adaptation.front]
    return "; ".join(told)


def _step(span: int) -> int:
    return next((step for step in _STEPS if span / step <= _MOST_LINES), _STEPS[-1])
