"""Blades: slips of web, whole feathers and sheets, as wings, tails, cheeks and cases."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import sin
from xml.etree import ElementTree as ET

from variants.pictures.fibre_batch import Fibre, FibreBatch
from variants.pictures.hatching import draw_hatching
from variants.pictures.inks import Inks
from variants.pictures.paper import INK, Paper, Point, Step, blend, line, luma, shade, smooth_on

#: A place on a blade: how far out along it, and how far aside, in shares of its length.
_OnBlade = Callable[[float, float], Point]
_Cubic = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True)
class Blade:
    """Where a blade stands.

    Attributes
    ----------
    root : Point
    out : Point
        Unit vector along it.
    aside : Point
        Unit vector across it, to its leading edge.
    length_mm : float
    width : float
        In shares of its length.
    """

    root: Point
    out: Point
    aside: Point
    length_mm: float
    width: float

    def at(self, out: float, aside: float) -> Point:
        """Return the place so far out and aside, in shares of the length."""
        far, across = out * self.length_mm, aside * self.length_mm
        return (
            self.root[0] + self.out[0] * far + self.aside[0] * across,
            self.root[1] + self.out[1] * far + self.aside[1] * across,
        )


def _line_ink(inks: Inks) -> str:
    if luma(inks.main) < 52:
        return blend(inks.main, "#b9ad98", 0.3)
    return blend(inks.main, INK, 0.55)


def draw_slip(paper: Paper, group: ET.Element, blade: Blade, inks: Inks, measured: bool) -> None:
    """Draw a slip of web: barbs side by side, its leading edge rounded over to the tip."""
    half = blade.width / 2
    lead = ((0.0, 0.03), (0.22, half * 1.05), (0.62, half * 1.25), (0.90, half * 0.62))
    trail = ((0.0, -0.03), (0.25, -half * 0.75), (0.55, -half * 1.15), (0.84, -half * 0.95))
    edge = [blade.at(*one) for one in lead], [blade.at(*one) for one in trail]
    tip = ((0.985, half * 0.22), (1.0, -half * 0.28), (0.95, -half * 0.74))
    cap = [edge[0][3], *(blade.at(*one) for one in tip), edge[1][3]]
    outline: list[Step] = [
        ("M", (edge[0][0],)), ("C", (edge[0][1], edge[0][2], edge[0][3])), *smooth_on(cap),
        ("C", (edge[1][2], edge[1][1], edge[1][0])), ("Z", ()),
    ]  # fmt: skip
    ink = _line_ink(inks)
    paper.shape(group, outline, inks.main, ink, 0.05, fill_opacity="0.9", stroke_linejoin="round")
    barbs = [_barb(lead, trail, place / 15) for place in range(1, 15)]
    shadow = [one for place, one in enumerate(barbs) if place > 9]
    paper.stroke(group, [step for one in shadow for step in _curve(blade, one)],
                 shade(inks.main, -0.22), 0.11)  # fmt: skip
    light = [one for place, one in enumerate(barbs) if 2 <= place <= 4]
    paper.stroke(group, [step for one in light for step in _curve(blade, one)],
                 shade(inks.main, 0.2), 0.1)  # fmt: skip
    paper.stroke(group, [step for one in barbs for step in _curve(blade, one)], ink, 0.028)
    _draw_marks(paper, group, blade, inks, barbs)
    if paper.is_hatched:
        draw_hatching(paper, group, outline, inks)
    if measured:
        paper.stroke(group, line(blade.at(0, 0), blade.at(1.0, -half * 0.28)), ink, 0.03,
                     data_measure="length")  # fmt: skip


def _barb(lead: tuple[Point, ...], trail: tuple[Point, ...], share: float) -> _Cubic:
    """Return a barb of a slip, between its edges, reaching to the rounded end."""
    places = [
        (one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share)
        for one, two in zip(lead, trail, strict=True)
    ]
    bulge = 0.115 * sin(3.14159 * min(1.0, share * 1.05))
    a, b, c, d = places
    return a, b, c, (d[0] + bulge, d[1])


def _curve(blade: Blade, barb: _Cubic) -> list[Step]:
    a, b, c, d = (blade.at(*one) for one in barb)
    return [("M", (a,)), ("C", (b, c, d))]


def _on_cubic(barb: _Cubic, share: float) -> Point:
    rest = 1.0 - share
    weights = (rest**3, 3 * rest * rest * share, 3 * rest * share * share, share**3)
    return (
        sum(weight * one[0] for weight, one in zip(weights, barb, strict=True)),
        sum(weight * one[1] for weight, one in zip(weights, barb, strict=True)),
    )


def _draw_marks(
    paper: Paper, group: ET.Element, blade: Blade, inks: Inks, barbs: list[_Cubic]
) -> None:
    """Draw the marks of a mottled or barred web over its barbs."""
    found: dict[str, list[Step]] = {}
    bars = paper.chance.random()
    for barb in barbs:
        is_barred = inks.look.manner == "bars"
        chance = (bars + paper.jitter(0.1)) % 1.0 if is_barred else paper.chance.random()
        for mark in inks.marks(chance):
            end = mark.start + (mark.end - mark.start) * (1.0 if is_barred else 0.6)
            ends = [blade.at(*_on_cubic(barb, share)) for share in (mark.start, end)]
            found.setdefault(mark.ink, []).extend(line(*ends))
    width = blade.width * blade.length_mm / 15
    for ink, steps in found.items():
        paper.stroke(group, steps, ink, width * 0.8, stroke_linecap="butt")


def draw_tip(paper: Paper, group: ET.Element, blade: Blade, inks: Inks, measured: bool) -> None:
    """Draw a whole feather: its stem, and barbs on both sides that close to a rounded tip."""
    half = blade.width / 2
    profile = ((0.0, 0.06), (0.08, 0.5), (0.25, 0.92), (0.45, 1.0), (0.7, 0.84), (0.88, 0.5),
               (0.97, 0.2), (1.0, 0.0))  # fmt: skip
    lead = [blade.at(out, half * wide) for out, wide in profile]
    trail = [blade.at(out, -half * wide) for out, wide in reversed(profile)]
    outline: list[Step] = [
        ("M", (lead[0],)), *smooth_on(lead), *smooth_on(trail), ("L", (lead[0],)), ("Z", ()),
    ]  # fmt: skip
    paper.fill(group, outline, inks.ground, fill_opacity="0.55")
    batch = FibreBatch(paper, group, is_mass=True)
    count = min(46, max(18, round(blade.length_mm * 3.0)))
    for number in range(count):
        share = 0.04 + 0.94 * number / count
        for side in (1.0, -1.0):
            reach = min(1.0, share + 0.17 * (1.0 - 0.5 * share))
            wide = _width_at(profile, reach) * half * side * (0.96 + 0.08 * paper.chance.random())
            tip = blade.at(reach, wide)
            handle = blade.at(share + (reach - share) * 0.32, wide * 0.62)
            fibre = Fibre(blade.at(share, 0.0), handle, tip)
            bars = ((share * inks.look.count * 1.1) % 1.0) if inks.look.manner == "bars" else None
            batch.add(fibre, inks.shade(-0.1 if side < 0 else 0.03), 0.06, thin=0.4, chance=bars)
    batch.write()
    if paper.is_hatched:
        draw_hatching(paper, group, outline, inks)
    paper.stroke(group, outline, _line_ink(inks), 0.022)
    told = {"data_measure": "length"} if measured else {}
    paper.stroke(group, line(blade.at(0, 0), blade.at(1, 0)), _line_ink(inks), 0.06, **told)


def _width_at(profile: tuple[Point, ...], share: float) -> float:
    for (one, low), (two, high) in pairwise(profile):
        if share <= two:
            return low + (high - low) * (share - one) / (two - one)
    return 0.0


def draw_sheet(paper: Paper, group: ET.Element, blade: Blade, inks: Inks, measured: bool) -> None:
    """Draw a wing cut from sheet: clear, with a few veins."""
    half = blade.width / 2
    edges = ((0.0, 0.1), (0.3, 0.8), (0.75, 1.0), (0.97, 0.5), (1.0, 0.0))
    lead = [blade.at(out, half * wide) for out, wide in edges]
    trail = [blade.at(out, -half * wide) for out, wide in reversed(edges)]
    outline: list[Step] = [("M", (lead[0],)), *smooth_on(lead), *smooth_on(trail), ("Z", ())]
    ink = _line_ink(inks)
    paper.shape(group, outline, inks.main, ink, 0.05, fill_opacity="0.7")
    if paper.is_hatched:
        draw_hatching(paper, group, outline, inks)
    veins: list[Step] = []
    for place in (-0.7, -0.35, 0.05, 0.4, 0.72):
        out = blade.at(0.45, place * half), blade.at(0.93, place * half * 0.9)
        veins += [("M", (blade.at(0.02, 0.0),)), ("Q", out)]
    paper.stroke(group, veins, ink, 0.03)
    told = {"data_measure": "length"} if measured else {}
    paper.stroke(group, line(blade.at(0, 0), blade.at(1, 0)), ink, 0.03, **told)


def draw_fold(
    paper: Paper, group: ET.Element, places: tuple[Point, Point, Point, Point], thick_mm: float,
    inks: Inks,
) -> None:  # fmt: skip
    """Draw a strip laid over the back from the first place to the last: a wing case."""
    rear, high, fore, front = places
    lift = thick_mm
    top = [rear, (high[0], high[1] + lift), (fore[0], fore[1] + lift), front]
    under = [front, (fore[0], fore[1] - lift * 1.6), (high[0], high[1] - lift * 1.6), rear]
    outline: list[Step] = [("M", (top[0],)), *smooth_on(top), *smooth_on(under), ("Z", ())]
    ink = _line_ink(inks)
    paper.shape(group, outline, inks.main, ink, 0.055, stroke_linejoin="round")
    lines: list[Step] = []
    for share in (0.2, 0.4, 0.6, 0.8):
        middle = [
            (one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share)
            for one, two in zip(top, reversed(under), strict=True)
        ]
        lines += [("M", (middle[0],)), *smooth_on(middle)]
    paper.stroke(group, lines, ink, 0.03)
    gloss = [
        (one[0] + (two[0] - one[0]) * 0.3, one[1] + (two[1] - one[1]) * 0.3)
        for one, two in zip(top[1:3], [under[2], under[1]], strict=True)
    ]
    paper.stroke(group, line(*gloss), shade(inks.main, 0.4), 0.07)
    if paper.is_hatched:
        draw_hatching(paper, group, outline, inks)
