"""Wings by kind: quill slips, feather tips, hair and fibres; upright, sloping or spent."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin
from xml.etree import ElementTree as ET

from variants.drawing.fibres import barb, draw_bunch
from variants.drawing.inks import Inks
from variants.drawing.paper import Paper, Point, shaded
from variants.geometry import PartShape

_SLIPS = ("wing quill",)
_TIPS = ("rooster hackle", "hen hackle")
_SHEETS = ("synthetic", "foam")


def draw_wing(paper: Paper, shape: PartShape, inks: Sequence[Inks], kind: str, up: float) -> None:
    """Draw a wing in the manner of its stuff."""
    if shape.angle_deg < 3:
        _spent(paper, shape, inks, up)
    elif kind in _SLIPS:
        _blades(paper, shape, inks, 0.30, "slip", up)
    elif kind in _TIPS:
        _blades(paper, shape, inks, 0.22, "tip", up)
    elif kind in _SHEETS:
        _blades(paper, shape, inks, 0.26, "sheet", up)
    else:
        spread = 34.0 if shape.angle_deg > 60 else 10.0
        draw_bunch(paper, shape, inks, up=True, spread=spread, root_up=up)


def _blades(
    paper: Paper, shape: PartShape, inks: Sequence[Inks], wide: float, kind: str, up: float
) -> None:
    """Draw two blades, the far one behind the near one."""
    group = paper.group(shape.part, data_kind=kind)
    length = shape.length_mm or 0.0
    root = ((shape.rear_mm + shape.front_mm) / 2, up)
    # The far wing leans a little forward, the near one back: their sum is the angle of the pair.
    lean = 9.0 if shape.angle_deg > 60 else 3.0
    for near, tilt in ((False, lean), (True, 0.0)):
        own = inks[0] if near else _dimmed(inks[0])
        _blade(paper, group, root, shape.angle_deg + tilt, length, wide, kind, own, near)


def _dimmed(inks: Inks) -> Inks:
    return Inks(tuple(shaded(ink, -0.18) for ink in inks.shades), inks.marking)


def _blade(
    paper: Paper,
    group: ET.Element,
    root: Point,
    angle_deg: float,
    length: float,
    wide: float,
    kind: str,
    inks: Inks,
    near: bool,
) -> None:
    back, rise = -cos(radians(angle_deg)), sin(radians(angle_deg))

    def place(out: float, aside: float) -> Point:
        return (
            root[0] + back * out * length + rise * aside * length,
            root[1] + rise * out * length - back * aside * length,
        )

    half = wide / 2
    if kind == "slip":
        outline = [(0, -0.05), (0.3, -half * 0.8), (0.75, -half), (1.0, -half * 0.15),
                   (0.95, half * 0.6), (0.7, half), (0.3, half * 0.8), (0, 0.05)]  # fmt: skip
    else:
        outline = [(0, -0.02), (0.3, -half), (0.7, -half * 0.8), (1.0, 0),
                   (0.7, half * 0.8), (0.3, half), (0, 0.02)]  # fmt: skip
    told = {"data_measure": "blade"} if near else {}
    fill = inks.main
    paper.shape(group, [place(*one) for one in outline], fill, shaded(fill, -0.5), 0.05,
                fill_opacity="0.82", **told)  # fmt: skip
    lines = 16
    for number in range(1, lines):
        share = number / lines
        if kind == "slip":
            aside = (share - 0.5) * wide * 0.9
            ends = (place(0.05, aside * 0.35), place(0.93 - abs(share - 0.6) * 0.2, aside))
            paper.line(group, ends, shaded(fill, -0.3 if number % 2 else 0.2), 0.035)
        else:
            for side in (-1, 1):
                tip = place(min(1.0, share + 0.12), side * half * 0.85 * (1 - abs(share - 0.45)))
                barb(paper, group, place(share * 0.95, 0.0), tip, inks, 0.045)
    # The stem of a feather; of a slip, the barb along its middle.
    width = 0.04 if kind == "slip" else 0.06
    told = {"data_measure": "length"} if near else {}
    paper.line(group, [root, place(1.0, 0.0)], shaded(fill, -0.4), width, **told)


def _spent(paper: Paper, shape: PartShape, inks: Sequence[Inks], up: float) -> None:
    """Draw spent wings: they lie out to the sides, so the near one looks foreshortened."""
    group = paper.group(shape.part, data_kind="spent")
    length = shape.length_mm or 0.0
    root = ((shape.rear_mm + shape.front_mm) / 2, up * 0.4)
    for number in range(34):
        share = number / 33 - 0.5
        # A lens that droops a little: broad along the shank, short towards the eye of who looks.
        round_off = (1 - (2 * share) ** 2) ** 0.5
        tip = (root[0] + share * length * 0.5, root[1] - length * 0.4 * round_off)
        barb(paper, group, root, tip, inks[number % len(inks)], 0.06)


def draw_wing_case(paper: Paper, shape: PartShape, inks: Sequence[Inks], up: float) -> None:
    """Draw a wing case: a strip drawn over the thorax."""
    group = paper.group(shape.part)
    rear, front = shape.rear_mm, shape.front_mm
    height = up * 1.25
    top = [(rear, up * 0.45), (rear + (front - rear) * 0.3, height), (front - (front - rear) * 0.25,
           height), (front, up * 0.4)]  # fmt: skip
    under = [(along, at * 0.72) for along, at in reversed(top)]
    ink = inks[0].main
    paper.shape(group, [*top, *under], ink, shaded(ink, -0.5), 0.06)
    for share in (0.8, 0.88):
        paper.line(group, [(along, at * share) for along, at in top], shaded(ink, -0.25), 0.03)
