"""Hatching that tells a colour without colour: lines laid over an area in one of a few ways.

The ways are the old engravers' for the colours of arms; which family of colour has which stands in
a table. Lines lie level or slant on the page, whichever way the area is turned.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, radians, sin
from xml.etree import ElementTree as ET

from variants.pictures.inks import Inks
from variants.pictures.paper import Paper, Point, Step, line, luma

_GAP_MM = 0.3
_LINE_MM = 0.045
_DOT_MM = 0.11
#: The slant of each way's lines, in degrees on the page as one looks at it.
_SLANTS: dict[str, tuple[float, ...]] = {
    "level": (0.0,),
    "upright": (90.0,),
    "falling": (45.0,),
    "rising": (-45.0,),
    "grid": (0.0, 90.0),
    "lattice": (45.0, -45.0),
}
_DARK_LUMA = 105.0


def draw_hatching(paper: Paper, group: ET.Element, steps: Sequence[Step], inks: Inks) -> None:
    """Hatch an area in the way of its colour, over a tint that quiets what lies below.

    A colour with a marking is left as it is: the marking is a pattern already.
    """
    if len(inks.shades) > 1:
        return
    ink = "#221d18" if luma(inks.main) > _DARK_LUMA else "#f1eadb"
    paper.fill(group, steps, inks.main, fill_opacity="0.72")
    told = {"data_hatch": inks.hatch}
    outline = flatten(steps)
    if inks.hatch in _SLANTS:
        lines = [
            step
            for slant in _SLANTS[inks.hatch]
            for one in across(outline, slant, _GAP_MM)
            for step in line(*one)
        ]
        paper.stroke(group, lines, ink, _LINE_MM, **told)
    elif inks.hatch == "dashes":
        lines = []
        for row, (start, end) in enumerate(across(outline, 0.0, _GAP_MM)):
            lines += _break_lines(start, end, 0.42, 0.3, 0.36 * (row % 2))
        paper.stroke(group, lines, ink, _LINE_MM, **told)
    elif inks.hatch in ("dots", "crosses"):
        paper.stroke(group, _draw_spots(outline, inks.hatch), ink,
                     _DOT_MM if inks.hatch == "dots" else _LINE_MM, **told)  # fmt: skip


def flatten(steps: Sequence[Step], pieces: int = 6) -> list[Point]:
    """Return the corners of an outline whose curves are cut into straight pieces."""
    places: list[Point] = []
    for letter, given in steps:
        if letter in "ML":
            places += given
        elif letter in "QC":
            start = places[-1]
            places += [_along(start, given, share / pieces) for share in range(1, pieces + 1)]
    return places


def _along(start: Point, rest: Sequence[Point], share: float) -> Point:
    """Return a place on a curve, by halving its handles (de Casteljau)."""
    places = [start, *rest]
    while len(places) > 1:
        places = [
            (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
            for a, b in pairwise(places)
        ]
    return places[0]


def across(outline: Sequence[Point], slant_deg: float, gap_mm: float) -> list[tuple[Point, Point]]:
    """Return the stretches of evenly spaced parallel lines that lie within an outline.

    Parameters
    ----------
    outline : sequence of Point
        Corners; the last is joined to the first.
    slant_deg : float
        How the lines fall on the page: 0 level, 90 upright, 45 from the upper left.
    gap_mm : float

    Notes
    -----
    The outline is turned until the lines lie level; each crosses its sides an even number of times,
    and every other stretch between crossings lies within.
    """
    # Forward is leftward on the page, so that the slant turns the other way here.
    turn = -radians(slant_deg)
    ahead, beside = cos(turn), sin(turn)
    turned = [(x * ahead - y * beside, x * beside + y * ahead) for x, y in outline]
    low, high = min(y for _, y in turned), max(y for _, y in turned)
    found = []
    for number in range(int(low / gap_mm) - 1, int(high / gap_mm) + 2):
        level = (number + 0.5) * gap_mm
        crossed = sorted(
            a[0] + (b[0] - a[0]) * (level - a[1]) / (b[1] - a[1])
            for a, b in pairwise([*turned, turned[0]])
            if (a[1] <= level) != (b[1] <= level)
        )
        for start, end in zip(crossed[::2], crossed[1::2], strict=False):
            found.append(
                (
                    (start * ahead + level * beside, level * ahead - start * beside),
                    (end * ahead + level * beside, level * ahead - end * beside),
                )
            )
    return found


def _break_lines(start: Point, end: Point, dash: float, gap: float, shift: float) -> list[Step]:
    """Return a level line in dashes."""
    steps: list[Step] = []
    at = start[0] - shift
    while at < end[0]:
        left, right = max(at, start[0]), min(at + dash, end[0])
        if right - left > 0.04:
            steps += line((left, start[1]), (right, start[1]))
        at += dash + gap
    return steps


def _draw_spots(outline: Sequence[Point], kind: str) -> list[Step]:
    """Return dots or small crosses in rows, every other row shifted."""
    steps: list[Step] = []
    gap = _GAP_MM * (1.0 if kind == "dots" else 1.5)
    reach = 0.01 if kind == "dots" else 0.13
    for row, (start, end) in enumerate(across(outline, 0.0, gap)):
        at = (int(start[0] / gap) + (0.5 if row % 2 else 0.0)) * gap
        while at < end[0] - 0.05:
            if at > start[0] + 0.05:
                steps += line((at - reach, start[1]), (at + reach, start[1]))
                if kind == "crosses":
                    steps += line((at, start[1] - reach), (at, start[1] + reach))
            at += gap
    return steps
