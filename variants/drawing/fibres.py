"""Single fibres: tails, wound hackle, hair and legs, each drawn barb by barb."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, radians, sin
from xml.etree import ElementTree as ET

from variants.drawing.inks import Inks
from variants.drawing.paper import PAPER, Paper, Point, is_pale, shaded
from variants.geometry import PartShape

#: Barbs drawn for one turn of hackle: fewer than there are, or the picture were a blot.
BARBS_TO_A_TURN = 15
_FEWEST, _MOST = 34, 108


def barb(
    paper: Paper,
    group: ET.Element,
    root: Point,
    tip: Point,
    inks: Inks,
    width: float,
    sag: float = 0.0,
    *,
    measure: str = "",
) -> None:
    """Draw one barb from root to tip, its marking along it.

    ``sag`` bows it, by this share of its length: soft barbs hang, stiff ones stand straight.
    """
    if measure:
        # What is measured is what is seen: all strokes of this barb, in a group of its own.
        group = paper.inner(group, data_measure=measure)
    ends = inks.along(paper.chance.random())
    start = 0.0
    if any(is_pale(ink) for _, ink in ends):
        # A pale fibre would be lost on the paper: it gets an edge, as an engraver would give it.
        edge = [_bowed(root, tip, sag, share) for share in _steps(0.0, 1.0, sag)]
        paper.line(group, edge, shaded(PAPER, -0.42), width * 1.7)
    for place, (end, ink) in enumerate(ends):
        points = [_bowed(root, tip, sag, share) for share in _steps(start, end, sag)]
        paper.line(group, points, ink, width * (1.1 - 0.3 * place / len(ends)))
        start = end


def _steps(start: float, end: float, sag: float) -> list[float]:
    count = max(1, round((end - start) * 6)) if sag else 1
    return [start + (end - start) * step / count for step in range(count + 1)]


def _bowed(root: Point, tip: Point, sag: float, share: float) -> Point:
    """Return a place along a barb that bows upward by a share of its length at its middle."""
    along, up = tip[0] - root[0], tip[1] - root[1]
    bow = 4.0 * sag * share * (1.0 - share)
    side = 1.0 if up >= 0 else -1.0
    return root[0] + along * share + abs(up) * bow, root[1] + up * share - along * bow * side


def _away(root: Point, angle_deg: float, length: float, up: bool = True) -> Point:
    """Return the end of a fibre that stands at an angle to the shank (0 straight back)."""
    back, rise = cos(radians(angle_deg)) * length, sin(radians(angle_deg)) * length
    return root[0] - back, root[1] + (rise if up else -rise)


def draw_tail(paper: Paper, shape: PartShape, inks: Sequence[Inks]) -> None:
    """Draw a tail: fibres that spread a little from the bend."""
    group = paper.group(shape.part)
    length = shape.length_mm or 0.0
    count = max(2, shape.counts.get("fibres", 6))
    root = (shape.rear_mm, 0.15)
    for number in range(count):
        spread = (number - (count - 1) / 2) / max(1, count - 1) * 9
        own = length * (1.0 if number == count // 2 else 0.9 + 0.09 * paper.chance.random())
        angle = shape.angle_deg * 0.6 + spread
        measure = "length" if number == count // 2 else ""
        barb(
            paper,
            group,
            root,
            _away(root, angle, own),
            inks[number % len(inks)],
            0.09,
            measure=measure,
        )


def draw_wound(paper: Paper, shape: PartShape, inks: Sequence[Inks], floats: bool) -> None:
    """Draw a wound hackle: barbs all round the shank, seen from the side.

    A barb that stands at an angle round the shank shows its height times the cosine; the upright
    ones show their full length.
    """
    group = paper.group(shape.part)
    length = shape.length_mm or 0.0
    across = shape.cone.front_mm / 2 if shape.cone else 0.2
    turns = max(1, shape.counts.get("turns", 3))
    count = min(_MOST, max(_FEWEST, turns * BARBS_TO_A_TURN))
    lean = shape.angle_deg if not floats else 90.0
    for number in range(count):
        along = shape.rear_mm + (shape.front_mm - shape.rear_mm) * paper.chance.random()
        turn = 2 * pi * paper.chance.random() if number else 0.0
        height = cos(turn)
        wobble = (paper.chance.random() - 0.5) * (38 if floats else 26) if number else 0.0
        back = cos(radians(lean + wobble)) * length
        rise = sin(radians(lean + wobble)) * length * height
        start = (along, across * height)
        dim = inks[number % len(inks)]
        if sin(turn) > 0.3:
            dim = Inks(tuple(shaded(ink, -0.12) for ink in dim.shades), dim.marking)
        measure = "length" if number == 0 else ""
        sag = 0.0 if floats else 0.09 + 0.05 * paper.chance.random()
        barb(paper, group, start, (along - back, start[1] + rise), dim, 0.065, sag, measure=measure)


def draw_flat_hackle(paper: Paper, shape: PartShape, inks: Sequence[Inks], height: float) -> None:
    """Draw a hackle wound flat round a post: a disc seen edge on."""
    group = paper.group(shape.part)
    length = shape.length_mm or 0.0
    middle = (shape.rear_mm + shape.front_mm) / 2
    count = min(_MOST, max(_FEWEST, shape.counts.get("turns", 4) * BARBS_TO_A_TURN))
    for number in range(count):
        turn = 2 * pi * paper.chance.random() if number else pi
        tilt = (paper.chance.random() - 0.5) * 0.22 * length if number else 0.0
        tip = (middle + cos(turn) * length, height + tilt + 0.10 * length * abs(sin(turn)))
        measure = "length" if number == 0 else ""
        barb(paper, group, (middle, height), tip, inks[number % len(inks)], 0.065, measure=measure)


def draw_bunch(
    paper: Paper, shape: PartShape, inks: Sequence[Inks], *, up: bool, spread: float, root_up: float
) -> None:
    """Draw a bunch of fibres: hair wings, throats, legs, posts."""
    group = paper.group(shape.part)
    length = shape.length_mm or 0.0
    count = min(40, max(6, shape.counts.get("fibres", 18)))
    along = (shape.rear_mm + shape.front_mm) / 2
    for number in range(count):
        share = number / (count - 1) - 0.5
        own = length * (1.0 if number == count // 2 else 0.9 + 0.1 * paper.chance.random())
        angle = shape.angle_deg + (share * spread if number != count // 2 else 0.0)
        root = (along + share * 0.25, root_up if up else -root_up)
        measure = "length" if number == count // 2 else ""
        barb(
            paper,
            group,
            root,
            _away(root, angle, own, up),
            inks[number % len(inks)],
            0.08,
            measure=measure,
        )
