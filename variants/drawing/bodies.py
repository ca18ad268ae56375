"""Bodies, ribs, heads and beads: tapered outlines with the texture of their stuff."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sin
from xml.etree import ElementTree as ET

from variants.drawing.inks import Inks
from variants.drawing.paper import INK, Paper, shaded
from variants.geometry import Cone, PartShape

#: Classes whose fibres stand out, and how far, in shares of the body's thickness.
_FUZZ = {
    "fur dubbing": 0.45,
    "synthetic dubbing": 0.3,
    "herl": 0.5,
    "yarn": 0.2,
    "chenille": 0.35,
    "CDC": 0.6,
    "marabou": 0.6,
    "hair": 0.15,
}
#: Classes that show rings, and how many to a millimetre.
_RINGS = {
    "stripped quill": 2.0,
    "biot": 1.6,
    "herl": 1.3,
    "tinsel": 1.6,
    "wire": 4.0,
    "thread": 3.0,
    "floss": 1.4,
    "wing quill": 1.5,
    "plant fibre": 1.2,
    "synthetic": 1.5,
}
_SHINES = ("tinsel", "wire", "bead")


def draw_body(paper: Paper, shape: PartShape, inks: Sequence[Inks], kind: str) -> None:
    """Draw a body that is dubbed, wound or spun, lighter above and darker below."""
    cone = shape.cone
    if cone is None or shape.front_mm <= shape.rear_mm:
        return
    group = paper.group(shape.part, data_kind=kind)
    main = inks[0].main
    steps = 12
    edge = [
        (
            shape.rear_mm + (shape.front_mm - shape.rear_mm) * step / steps,
            cone.diameter_mm(step / steps) / 2,
        )
        for step in range(steps + 1)
    ]
    outline = [*edge, *((along, -up) for along, up in reversed(edge))]
    paper.shape(group, outline, main, shaded(main, -0.45), 0.05, data_measure="body")
    _shade(paper, group, edge, main, kind)
    if kind in _RINGS:
        _rings(paper, group, shape, cone, inks, kind)
    if kind in _FUZZ:
        _fuzz(paper, group, shape, cone, inks, _FUZZ[kind])


def _shade(
    paper: Paper, group: ET.Element, edge: Sequence[tuple[float, float]], main: str, kind: str
) -> None:
    top = [(along, up * 0.75) for along, up in edge]
    bottom = [(along, -up * 0.35) for along, up in edge]
    light = 0.55 if kind in _SHINES else 0.22
    paper.shape(
        group, [*top, *((along, up * 0.3) for along, up in reversed(edge))],
        shaded(main, light), "none", 0.0,
    )  # fmt: skip
    paper.shape(
        group, [*bottom, *((along, -up * 0.95) for along, up in reversed(edge))],
        shaded(main, -0.25), "none", 0.0,
    )  # fmt: skip


def _rings(
    paper: Paper, group: ET.Element, shape: PartShape, cone: Cone, inks: Sequence[Inks], kind: str
) -> None:
    length = shape.front_mm - shape.rear_mm
    count = max(3, round(length * _RINGS[kind]))
    for ring in range(1, count):
        share = ring / count
        along, up = shape.rear_mm + length * share, cone.diameter_mm(share) / 2
        lean = 0.12
        ink = inks[0].other(1) if len(inks[0].shades) > 1 else shaded(inks[0].main, -0.35)
        width = 0.16 if kind in ("stripped quill", "biot", "herl") else 0.05
        paper.line(group, [(along - lean, up), (along + lean, -up)], ink, width)


def _fuzz(
    paper: Paper,
    group: ET.Element,
    shape: PartShape,
    cone: Cone,
    inks: Sequence[Inks],
    reach: float,
) -> None:
    length = shape.front_mm - shape.rear_mm
    for number in range(max(20, round(length * 22))):
        share = paper.chance.random()
        up = cone.diameter_mm(share) / 2
        side = 1 if paper.chance.random() < 0.5 else -1
        along = shape.rear_mm + length * share
        far = up * (0.6 + (0.4 + reach) * paper.chance.random())
        near = up * (0.2 + 0.6 * paper.chance.random())
        lean = (paper.chance.random() - 0.2) * 0.5 * reach * max(0.6, up * 2)
        shade = shaded(inks[number % len(inks)].main, (paper.chance.random() - 0.55) * 0.6)
        paper.line(group, [(along, near * side), (along - lean, far * side)], shade, 0.045)


def draw_rib(paper: Paper, shape: PartShape, inks: Sequence[Inks]) -> None:
    """Draw a rib: one slanted stroke across the body for each turn."""
    cone, turns = shape.cone, shape.counts.get("turns", 0)
    if cone is None or not turns:
        return
    group = paper.group(shape.part)
    width = min(0.5, max(0.08, shape.strand_mm or 0.12))
    length = shape.front_mm - shape.rear_mm
    step = length / turns
    for turn in range(turns):
        share = (turn + 0.5) / turns
        along = shape.rear_mm + length * share
        up = cone.diameter_mm(share) / 2 + width / 3
        ends = [(along - step * 0.22, -up), (along + step * 0.22, up)]
        paper.line(group, ends, shaded(inks[0].main, -0.35), width * 1.5)
        paper.line(group, ends, inks[0].main, width, data_measure="turn")
        shine = [(a + 0.02, u * 0.5) for a, u in ends]
        paper.line(group, shine, shaded(inks[0].main, 0.6), width * 0.3)


def draw_head(paper: Paper, shape: PartShape, ink: str) -> None:
    """Draw the head: the thread's whipping, ring by ring."""
    cone = shape.cone
    if cone is None:
        return
    group = paper.group("head")
    rear, front = shape.rear_mm, shape.front_mm
    thick, thin = cone.rear_mm / 2 * 1.15, cone.front_mm / 2 * 0.7
    steps = 16
    edge = []
    for step in range(steps + 1):
        share = step / steps
        # Blunt behind, drawn out towards the eye.
        swell = sin(pi * min(1.0, 0.12 + share * 0.88)) ** 0.6 if share < 0.5 else 1.0
        up = (thick + (thin - thick) * share**1.5) * (0.55 + 0.45 * swell)
        edge.append((rear + (front - rear) * share, up))
    outline = [*edge, *((along, -up) for along, up in reversed(edge))]
    paper.shape(group, outline, ink, shaded(ink, -0.5), 0.05, data_measure="head")
    for step in range(2, steps - 1, 2):
        along, up = edge[step]
        paper.line(group, [(along, up * 0.9), (along, -up * 0.9)], shaded(ink, -0.3), 0.035)
    light = [(along, up * 0.45) for along, up in edge[2:-3]]
    paper.line(group, light, shaded(ink, 0.45), 0.09)


def draw_thread_base(paper: Paper, core_mm: float, rear: float, front: float, ink: str) -> None:
    """Draw the thread that lies on the bare wire, seen where nothing else covers it."""
    group = paper.group("thread")
    up = core_mm / 2
    outline = [(rear, up), (front, up), (front, -up), (rear, -up)]
    paper.shape(group, outline, ink, shaded(ink, -0.4), 0.03)
    count = max(2, round((front - rear) / 0.22))
    for ring in range(1, count):
        along = rear + (front - rear) * ring / count
        paper.line(group, [(along - 0.03, up), (along + 0.03, -up)], shaded(ink, -0.3), 0.03)


def draw_bead(paper: Paper, shape: PartShape, inks: Sequence[Inks]) -> None:
    """Draw a bead behind the eye."""
    if shape.cone is None:
        return
    group = paper.group("bead")
    radius = shape.cone.front_mm / 2
    middle = (shape.front_mm - radius * 0.4, 0.0)
    paper.circle(group, middle, radius, inks[0].main, INK, 0.06, data_measure="diameter")
    paper.circle(
        group, (middle[0] + radius * 0.3, radius * 0.35), radius * 0.25,
        shaded(inks[0].main, 0.6), "none", 0.0,
    )  # fmt: skip
