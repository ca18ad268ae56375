"""The hook: wire, bend, point, barb or none, and the eye."""

from __future__ import annotations

from math import cos, pi, radians, sin
from xml.etree import ElementTree as ET

from variants.drawing.paper import Paper, Point, shaded
from variants.geometry import HookShape

_STEEL = "#5b5750"
#: How far the point's side reaches back, in shanks, and the eye's tilt in degrees, by its name
#: (common practice).
_POINT_SHANKS = 0.42
_TILT = {"down": -28.0, "up": 28.0, "straight": 0.0, "jig": -60.0}


def draw_hook(paper: Paper, hook: HookShape) -> None:
    """Draw a hook, its shank along the paper's own line."""
    group = paper.group("hook", data_bend=hook.bend, data_eye=hook.eye)
    points = _shank(hook) + _bend(hook) + _point(hook)
    paper.line(group, points, shaded(_STEEL, -0.5), hook.wire_mm, stroke_linejoin="round",
               data_measure="shank")  # fmt: skip
    paper.line(group, points, _STEEL, hook.wire_mm * 0.7, stroke_linejoin="round")
    glint = [(along, up + hook.wire_mm * 0.18) for along, up in points]
    paper.line(group, glint, shaded(_STEEL, 0.45), hook.wire_mm * 0.15)
    _barb(paper, group, hook, points[-1])
    _eye(paper, group, hook)


def _shank(hook: HookShape) -> list[Point]:
    if hook.bend != "curved":
        return [(hook.shank_mm, 0.0), (0.0, 0.0)]
    # A curved shank drops towards the bend; the fly's parts still follow the straight line.
    return [(hook.shank_mm, 0.0), (hook.shank_mm * 0.3, 0.0), (0.0, 0.0)]


def _bend(hook: HookShape) -> list[Point]:
    radius = hook.gape_mm / 2
    deep = {"limerick": 0.85, "sproat": 1.0, "curved": 1.15}.get(hook.bend, 1.0)
    steps = 24
    return [
        (-sin(pi * step / steps) * radius * deep, -radius + cos(pi * step / steps) * radius)
        for step in range(1, steps + 1)
    ]


def _point(hook: HookShape) -> list[Point]:
    tip = hook.shank_mm * _POINT_SHANKS
    return [(tip * 0.6, -hook.gape_mm), (tip, -hook.gape_mm + hook.wire_mm * 0.6)]


def _barb(paper: Paper, group: ET.Element, hook: HookShape, tip: Point) -> None:
    wire = hook.wire_mm
    sharp = (tip[0] + wire * 1.2, tip[1] + wire * 0.25)
    body = [(tip[0] - wire, tip[1] + wire * 0.45), sharp, (tip[0] - wire, tip[1] - wire * 0.45)]
    paper.shape(group, body, _STEEL, shaded(_STEEL, -0.5), 0.03)
    if hook.is_barbed:
        root = (tip[0] - wire * 1.9, tip[1] + wire * 0.3)
        paper.line(group, [root, (root[0] - wire * 1.1, root[1] + wire * 0.75)], _STEEL, wire * 0.3,
                   data_measure="barb")  # fmt: skip


def _eye(paper: Paper, group: ET.Element, hook: HookShape) -> None:
    tilt = radians(_TILT.get(hook.eye, 0.0))
    radius = hook.eye_mm * 0.32
    middle = (hook.shank_mm + cos(tilt) * radius, sin(tilt) * radius)
    paper.circle(group, middle, radius, "none", shaded(_STEEL, -0.4), hook.wire_mm * 0.9)
    paper.circle(group, middle, radius, "none", _STEEL, hook.wire_mm * 0.6)
