"""Bodies, ribs, the thread on bare wire, heads and beads."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import pi
from xml.etree import ElementTree as ET

from variants.geometry import Cone, PartShape, Texture
from variants.model import HEAD, THREAD
from variants.pictures.hatching import draw_hatching
from variants.pictures.inks import Inks
from variants.pictures.outline import Outline
from variants.pictures.paper import INK, Paper, Point, Step, blend, close_path, line, shade
from variants.pictures.spine import Spine
from variants.pictures.textures import Skin, draw_light_and_shade, draw_texture

_FUZZY = ("dubbed", "wisped", "flued", "piled", "spun")
_THREAD = Texture("wound", 0.13, 0.0, 1.0, "")
_FLAT = ("banded", "striped")
#: How full a head is, along it: share of its length, share of what stands over the bare shank.
_WHIPPED = ((0.0, 0.5), (0.08, 0.86), (0.22, 1.0), (0.45, 0.84), (0.75, 0.4), (1.0, 0.0))


def draw_body(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], texture: Texture,
    measure: str = "body",
) -> None:  # fmt: skip
    """Draw what is dubbed, wound or spun round the shank, lighter above and darker below."""
    if shape.cone is None or shape.front_mm <= shape.rear_mm:
        return
    group = paper.group(shape.part, data_manner=texture.manner)
    outline = Outline(spine, shape)
    skin = Skin(paper, group, outline, inks, texture)
    if texture.manner in _FUZZY:
        paper.fill(group, outline.edge(), inks[0].main, data_measure=measure)
    else:
        paper.shape(group, outline.edge(), inks[0].main, skin.line, 0.05, data_measure=measure,
                    stroke_linejoin="round")  # fmt: skip
    draw_light_and_shade(skin)
    draw_texture(skin)
    if paper.is_hatched:
        draw_hatching(paper, group, outline.edge(), inks[0])


def draw_rib(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], texture: Texture
) -> None:
    """Draw a rib: the near side of each turn, wound towards the eye."""
    turns = shape.counts.get("turns", 0)
    if shape.cone is None or not turns:
        return
    group = paper.group(shape.part)
    outline, main = Outline(spine, shape, 0.0, 0.0), inks[0].main
    pitch = outline.length_mm / turns
    is_flat = texture.manner in _FLAT
    # Of a flat strand the table tells how thick it is; how wide, its own turns edge to edge.
    strand = texture.pitch_mm if is_flat else (shape.strand_mm or 0.12)
    width = min(0.6, 0.4 * pitch, max(0.09, strand))
    beyond = 0.02 if is_flat else width * 0.3
    # Lines of a rib finer than a tenth of a millimetre would swallow it.
    edge = min(0.04, width * 0.28)
    for turn in range(turns):
        share = (turn + 0.5) / turns
        band = outline.band(share, pitch, width, beyond_mm=beyond)
        paper.shape(group, band, main, blend(main, INK, 0.72), edge, data_measure="turn")
    shadows: list[Step] = []
    lights: list[Step] = []
    for turn in range(turns):
        share = (turn + 0.5) / turns
        shadows += outline.band(share, pitch, width - edge, pi * 0.7, pi, beyond)
        lights += outline.band(share, pitch, width * 0.5, pi * 0.2, pi * 0.45, beyond)
    paper.fill(group, shadows, shade(main, -0.35))
    paper.fill(group, lights, shade(main, 0.2 + 0.12 * texture.gloss))


def draw_thread_base(
    paper: Paper, spine: Spine, core_mm: float, rear: float, front: float, ink: str
) -> None:
    """Draw the thread that lies on the bare wire, seen where nothing else covers it."""
    shape = PartShape(THREAD, rear, front, 0.0, cone=Cone(front - rear, core_mm, core_mm))
    draw_body(paper, spine, shape, [Inks((ink,))], _THREAD, measure="base")


def draw_head(paper: Paper, spine: Spine, shape: PartShape, inks: Inks) -> None:
    """Draw the head: the thread's whipping, full behind and drawn out towards the eye."""
    if shape.cone is None or shape.front_mm <= shape.rear_mm:
        return
    group, ink, at = paper.group(HEAD), inks.main, _whipping(spine, shape, shape.cone)
    skin = Skin(paper, group, Outline(spine, shape), [inks], _THREAD)
    back = [at(share, 1.0) for share, _ in _WHIPPED]
    outline = close_path(*back, *(at(share, -1.0) for share, _ in reversed(_WHIPPED)))
    paper.shape(group, outline, ink, skin.line, 0.045, data_measure=HEAD,
                stroke_linejoin="round")  # fmt: skip
    shares = [step / 10 for step in range(11)]
    shadow = [at(share, -0.35) for share in shares]
    paper.fill(group, close_path(*shadow, *(at(share, -0.94) for share in reversed(shares))),
               shade(ink, -0.3))  # fmt: skip
    rings: list[Step] = []
    count = max(4, round((shape.front_mm - shape.rear_mm) / _THREAD.pitch_mm))
    for ring in range(1, count):
        share = ring / count
        rings += line(at(min(1.0, share + 0.03), 0.96), at(max(0.0, share - 0.03), -0.96))
    paper.stroke(group, rings, skin.line, 0.025)
    light = [at(0.12 + 0.5 * step / 6, 0.5) for step in range(7)]
    paper.stroke(group, line(*light), shade(ink, 0.5), 0.09)
    if paper.is_hatched:
        draw_hatching(paper, group, outline, inks)


def _whipping(spine: Spine, shape: PartShape, cone: Cone) -> Callable[[float, float], Point]:
    """Return where a head's skin is: at a share of its length, and of its height to one side."""
    core, full = cone.core_mm / 2, cone.rear_mm / 2
    length = shape.front_mm - shape.rear_mm

    def at(share: float, side: float) -> Point:
        part = 0.0
        for (one, low), (two, high) in pairwise(_WHIPPED):
            if share <= two:
                part = low + (high - low) * (share - one) / (two - one)
                break
        return spine.stand(shape.rear_mm + length * share, side * (core + (full - core) * part))

    return at


def draw_bead(
    paper: Paper, spine: Spine, shape: PartShape, inks: Sequence[Inks], gloss: float
) -> None:
    """Draw a bead: a ball behind the eye."""
    if shape.cone is None:
        return
    group, radius = paper.group(shape.part), shape.cone.front_mm / 2
    middle = spine.stand((shape.rear_mm + shape.front_mm) / 2)
    draw_ball(paper, group, middle, radius, inks[0].main, gloss)


def draw_ball(
    paper: Paper, group: ET.Element, middle: Point, radius: float, ink: str, gloss: float
) -> None:
    """Draw what is round: a ball with its shadow and a glint."""
    paper.circle(group, middle, radius, ink, blend(ink, INK, 0.7), 0.06, data_measure="diameter")
    paper.fill(group, _lune(middle, radius, 0.94, 0.35), shade(ink, -0.22))
    paper.fill(group, _lune(middle, radius, 0.94, 0.72), shade(ink, -0.42))
    hatches: list[Step] = []
    for number in range(5):
        hatches += _under(middle, radius * (0.92 - 0.1 * number), 0.55 - 0.07 * number)
    paper.stroke(group, hatches, blend(ink, INK, 0.6), 0.028)
    if gloss < 1.5:
        return
    shine = 0.35 + 0.15 * gloss
    for size, share in ((0.36, shine * 0.55), (0.18, min(0.95, shine))):
        spot = (middle[0] + radius * 0.32, middle[1] + radius * 0.42)
        paper.circle(group, spot, radius * size, shade(ink, share), "none", 0.0)


def _lune(middle: Point, radius: float, outer: float, depth: float) -> list[Step]:
    """Return a crescent along the lower edge of a ball; ``depth`` is how thin it is, up to 1."""
    x, y, far = middle[0], middle[1], radius * outer
    left, right = (x + far * 0.96, y - far * 0.28), (x - far * 0.96, y - far * 0.28)
    return [
        ("M", (left,)),
        ("C", ((x + far * 0.85, y - far * 1.24), (x - far * 0.85, y - far * 1.24), right)),
        ("C", ((x - far * 0.5, y - far * (0.2 + depth)), (x + far * 0.5, y - far * (0.2 + depth)),
               left)),
        ("Z", ()),
    ]  # fmt: skip


def _under(middle: Point, radius: float, share: float) -> list[Step]:
    """Return an arc round the lower side of a ball."""
    x, y = middle
    wide, low = radius * share * 1.5, radius * 0.94
    return [
        ("M", ((x + wide, y - low * 0.62),)),
        ("C", ((x + wide * 0.6, y - low * 1.08), (x - wide * 0.6, y - low * 1.08),
               (x - wide, y - low * 0.62))),
    ]  # fmt: skip
