"""The hook: wire, bend, point, barb or none, and the eye."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import cos, radians, sin
from xml.etree import ElementTree as ET

from variants.geometry import HookShape
from variants.model import HOOK
from variants.pictures.paper import Paper, Point, Step, close_path, line, shade
from variants.pictures.spine import Spine

_STEEL = "#6a665f"
_EDGE = "#26221d"


def draw_hook(paper: Paper, spine: Spine, tilt_deg: float) -> None:
    """Draw a hook: its wire as a rounded rod, the point sharp, the eye seen a little askew.

    Parameters
    ----------
    paper : Paper
    spine : Spine
    tilt_deg : float
        How the eye stands to the shank, up above 0.
    """
    hook = spine.hook
    group = paper.group(HOOK, data_bend=hook.bend, data_eye=hook.eye)
    _eye(paper, group, hook, tilt_deg)
    wire, path = hook.wire_mm, _wire(spine)
    paper.stroke(group, path, _EDGE, wire, data_measure="wire")
    paper.stroke(group, path, _STEEL, wire * 0.62)
    glint = wire * 0.14
    lit = [(letter, tuple((x, y + glint) for x, y in places)) for letter, places in path]
    paper.stroke(group, lit, shade(_STEEL, 0.62), wire * 0.16)
    _point(paper, group, spine)


def _wire(spine: Spine) -> list[Step]:
    """Return the middle of the wire, from the eye round the bend to where the point begins."""
    shank = spine.hook.shank_mm
    count = 1 if not spine.look.droop_deg else 9
    ahead = [spine.stand(shank * (1.0 - step / count)) for step in range(count + 1)]
    *_, end = spine.controls
    begins = (end[0] + spine.look.point * spine.hook.gape_mm - _spear(spine.hook), end[1])
    return [*line(*ahead), ("C", spine.controls), ("L", (begins,))]


def _spear(hook: HookShape) -> float:
    return 3.4 * hook.wire_mm


def _point(paper: Paper, group: ET.Element, spine: Spine) -> None:
    """Draw the point, ground from above, and the barb cut up out of the wire."""
    hook, wire = spine.hook, spine.hook.wire_mm
    *_, end = spine.controls
    tip = (end[0] + spine.look.point * hook.gape_mm, end[1] + wire * 0.1)
    base = tip[0] - _spear(hook)
    ground = close_path(
        (base, end[1] + wire / 2), (tip[0] - wire * 1.2, end[1] + wire * 0.36), tip,
        (base, end[1] - wire / 2),
    )  # fmt: skip
    paper.shape(group, ground, _STEEL, _EDGE, 0.04, stroke_linejoin="round")
    paper.stroke(
        group,
        line((base, end[1] + wire * 0.14), (tip[0] - wire * 0.9, end[1] + wire * 0.2)),
        shade(_STEEL, 0.62), wire * 0.14,
    )  # fmt: skip
    if not hook.is_barbed:
        return
    root = (base + wire * 0.5, end[1] + wire * 0.42)
    sliver: tuple[Point, ...] = (
        root, (root[0] - wire * 1.5, root[1] + wire * 0.95), (root[0] - wire * 0.75, root[1]),
    )  # fmt: skip
    paper.shape(group, close_path(*sliver), _STEEL, _EDGE, 0.035, stroke_linejoin="round",
                data_measure="barb")  # fmt: skip


def _eye(paper: Paper, group: ET.Element, hook: HookShape, tilt_deg: float) -> None:
    """Draw the eye: a ring that lies across the hook, so that from the side it is narrow."""
    tilt = radians(tilt_deg)
    wire = hook.wire_mm
    long, thin = (hook.eye_mm - wire) / 2, (hook.eye_mm - wire) * 0.26
    begins = hook.shank_mm - wire * 0.4
    middle = (begins + cos(tilt) * long, sin(tilt) * long)

    def at(forward: float, up: float) -> Point:
        return (
            middle[0] + cos(tilt) * forward - sin(tilt) * up,
            middle[1] + sin(tilt) * forward + cos(tilt) * up,
        )

    ring = _ellipse(at, long, thin)
    paper.stroke(group, ring, _EDGE, wire, data_measure="eye")
    paper.stroke(group, ring, _STEEL, wire * 0.6)
    lit = line(at(-long * 0.5, thin * 0.85 + wire * 0.12), at(long * 0.6, thin * 0.8 + wire * 0.12))
    paper.stroke(group, lit, shade(_STEEL, 0.62), wire * 0.15)


def _ellipse(at: Callable[[float, float], Point], long: float, thin: float) -> list[Step]:
    """Return an ellipse about a middle: ``at`` turns what is along and across it into places."""
    # Four cubic curves whose handles reach so far miss a circle by three parts in ten thousand.
    handle = 0.5523
    steps: list[Step] = [("M", (at(long, 0.0),))]
    corners = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0))
    for (x0, y0), (x1, y1) in pairwise(corners):
        one = at(long * (x0 + handle * x1), thin * (y0 + handle * y1))
        two = at(long * (x1 + handle * x0), thin * (y1 + handle * y0))
        steps.append(("C", (one, two, at(long * x1, thin * y1))))
    return [*steps, ("Z", ())]


def draw_bend_head_on(paper: Paper, hook: HookShape) -> None:
    """Draw the bend from in front: a rod that hangs a gape deep, the point at its foot."""
    group, wire = paper.group(HOOK, data_view="front"), hook.wire_mm
    rod = line((0.0, 0.0), (0.0, -hook.gape_mm))
    paper.stroke(group, rod, _EDGE, wire, data_measure="gape")
    paper.stroke(group, rod, _STEEL, wire * 0.62)
    lit = line((wire * 0.14, -0.1), (wire * 0.14, -hook.gape_mm + wire * 0.4))
    paper.stroke(group, lit, shade(_STEEL, 0.62), wire * 0.16)
    paper.circle(group, (0.0, -hook.gape_mm), wire * 0.22, _EDGE, "none", 0.0)


def draw_eye_head_on(paper: Paper, hook: HookShape, tilt_deg: float) -> None:
    """Draw the eye from in front: as wide as it is, as high as its tilt shows it."""
    group, wire = paper.group(HOOK, data_view="front"), hook.wire_mm
    wide = (hook.eye_mm - wire) / 2
    high = wide * max(0.28, abs(sin(radians(tilt_deg))))
    low = sin(radians(tilt_deg)) * wide

    def at(across: float, up: float) -> Point:
        return across, up + low

    ring = _ellipse(at, wide, high)
    paper.stroke(group, ring, _EDGE, wire, data_measure="eye")
    paper.stroke(group, ring, _STEEL, wire * 0.6)
