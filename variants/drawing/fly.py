"""A whole fly on its paper, with a scale bar, a caption and words for who can't see it."""

from __future__ import annotations

import hashlib
import random
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from variants.drawing.bodies import draw_bead, draw_body, draw_head, draw_rib, draw_thread_base
from variants.drawing.fibres import draw_bunch, draw_flat_hackle, draw_tail, draw_wound
from variants.drawing.hook import draw_hook
from variants.drawing.inks import inks_of
from variants.drawing.paper import INK, PAPER, Paper, number
from variants.drawing.wings import draw_wing, draw_wing_case
from variants.geometry import FlyGeometry, Layout, PartShape, fly_geometry
from variants.model import Candidate, Variant
from variants.problem import DesignProblem

#: How many pixels a millimetre takes where nobody says.
PIXELS_PER_MM = 26.0
_MARGIN_MM = 1.4
_BARE_MARGIN_MM = 0.3
_CAPTION_MM = 3.2
#: In which order parts are laid on the paper: what is drawn later hides what was drawn before.
_LAYERS = (
    "hook", "tail", "shuck", "tag", "tip", "butt", "weight", "underbody", "body", "body-coating",
    "rib", "palmer", "throat", "legs", "thorax", "wing-case", "wing", "post", "topping", "cheek",
    "hackle", "collar", "feelers", "head", "eyes", "bead",
)  # fmt: skip
_BODIES = ("tag", "tip", "butt", "weight", "underbody", "body", "thorax")
_HIDDEN = ("weight", "underbody", "body-coating")


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished drawing.

    Attributes
    ----------
    svg : str
        A whole SVG document.
    width_mm, height_mm : float
        Of the paper.
    title : str
    """

    svg: str
    width_mm: float
    height_mm: float
    title: str

    def _repr_svg_(self) -> str:
        """Show the drawing in a notebook."""
        return self.svg


def draw_fly(
    design: DesignProblem,
    layout: Layout,
    variant: Variant | None = None,
    *,
    pixels_per_mm: float = PIXELS_PER_MM,
    captioned: bool = True,
) -> Picture:
    """Return the fly in profile, to scale, its head to the left.

    Parameters
    ----------
    design : DesignProblem
    layout : Layout
    variant : Variant, optional
        One of the design's; the dressing as written without one.
    pixels_per_mm : float
        How large it is shown; the drawing itself is in millimetres.
    captioned : bool
        Whether name, size and scale stand under it.

    Notes
    -----
    The same fly is the same drawing, to the byte: chance is seeded, part by part, by what the part
    is made of, so that a variant's unchanged parts are drawn as its base's are.
    """
    geometry = fly_geometry(design, layout, variant)
    chosen = variant.chosen if variant is not None else design.base
    paper = Paper(geometry.hook.shank_mm, random.Random(0))
    _draw_parts(paper, design, geometry, chosen)
    name = design.request.base.name
    title = name if variant is None else f"{name}, variant {variant.rank}"
    described = _described(design, geometry, chosen)
    if not captioned:
        return _bare(paper, title, described, pixels_per_mm)
    return _framed(paper, geometry, title, described, pixels_per_mm)


def _seed(style: str, part: str, candidate: Candidate) -> str:
    return hashlib.sha256(f"{style}\n{part}={candidate.identity}".encode()).hexdigest()


def _draw_parts(
    paper: Paper, design: DesignProblem, geometry: FlyGeometry, chosen: Mapping[str, Candidate]
) -> None:
    floats = design.rulebook.trade.styles[design.request.base.style].floats
    draw_hook(paper, geometry.hook)
    thread = inks_of(chosen["thread"])[0].main if "thread" in chosen else INK
    head = geometry.parts["head"]
    draw_thread_base(paper, geometry.core_mm, 0.0, head.rear_mm, thread)
    for part in _LAYERS:
        shape = geometry.parts.get(part)
        if shape is None or part in _HIDDEN:
            continue
        if part == "head":
            draw_head(paper, shape, thread)
            continue
        candidate = chosen.get(part)
        if candidate is not None and candidate.ingredients:
            paper.chance = random.Random(_seed(geometry.style, part, candidate))
            _draw_part(paper, geometry, shape, candidate, floats)


def _draw_part(
    paper: Paper, geometry: FlyGeometry, shape: PartShape, candidate: Candidate, floats: bool
) -> None:
    inks, kind = inks_of(candidate), candidate.ingredients[0].material.kind
    part, up = shape.part, _height_at(geometry, shape)
    if part in _BODIES:
        draw_body(paper, shape, inks, kind)
    elif part == "bead":
        draw_bead(paper, shape, inks)
    elif part == "rib":
        draw_rib(paper, shape, inks)
    elif part in ("tail", "shuck"):
        draw_tail(paper, shape, inks)
    elif part in ("hackle", "palmer", "collar"):
        if shape.angle_deg < 3:
            draw_flat_hackle(paper, shape, inks, up + geometry.hook.gape_mm * 0.25)
        else:
            draw_wound(paper, shape, inks, floats)
    elif part in ("wing", "topping", "cheek"):
        draw_wing(paper, shape, inks, kind, up)
    elif part == "wing-case":
        draw_wing_case(paper, shape, inks, up * 1.2)
    elif part in ("throat", "legs"):
        draw_bunch(paper, shape, inks, up=False, spread=30.0, root_up=up * 0.6)
    elif part in ("post", "feelers"):
        draw_bunch(paper, shape, inks, up=True, spread=14.0, root_up=up)


def _height_at(geometry: FlyGeometry, shape: PartShape) -> float:
    """Return how high the fly's back is where a part is tied in."""
    along = (shape.rear_mm + shape.front_mm) / 2
    height = geometry.core_mm / 2
    for name in ("body", "thorax"):
        other = geometry.parts.get(name)
        if other is None or other.cone is None or not other.rear_mm <= along <= other.front_mm:
            continue
        span = other.front_mm - other.rear_mm
        share = (along - other.rear_mm) / span if span else 1.0
        height = max(height, other.cone.diameter_mm(share) / 2)
    return height


def _described(
    design: DesignProblem, geometry: FlyGeometry, chosen: Mapping[str, Candidate]
) -> str:
    style = design.rulebook.trade.styles[design.request.base.style].name
    parts = design.rulebook.trade.parts
    told = [
        f"{parts[part].name}: {one.words}" if part in parts else f"{part}: {one.words}"
        for part, one in chosen.items()
        if one.ingredients
    ]
    return f"A {style} on a hook size {geometry.hook.size}, seen from the side. {'; '.join(told)}."


def _framed(
    paper: Paper, geometry: FlyGeometry, title: str, description: str, pixels_per_mm: float
) -> Picture:
    left, top = (paper.low[axis] - _MARGIN_MM for axis in (0, 1))
    told = len(title) + len(", hook size 00")
    right = max(paper.high[0] + _MARGIN_MM, left + 12.0, left + min(40.0, told * 0.56) + 2.8)
    bottom = paper.high[1] + _MARGIN_MM + _CAPTION_MM
    width, height = right - left, bottom - top
    svg = _sheet((left, top, width, height), title, description, pixels_per_mm)
    ET.SubElement(
        svg, "rect",
        {"x": number(left), "y": number(top), "width": number(width), "height": number(height),
         "fill": PAPER},
    )  # fmt: skip
    svg.append(_drawn(paper))
    _caption(svg, geometry, title, left + _MARGIN_MM, bottom - _MARGIN_MM * 0.6, right)
    text = ET.tostring(svg, encoding="unicode")
    return Picture(text + "\n", width, height, title)


def _bare(paper: Paper, title: str, description: str, pixels_per_mm: float) -> Picture:
    """Return the drawing alone, without paper under it."""
    left, top = (paper.low[axis] - _BARE_MARGIN_MM for axis in (0, 1))
    right, bottom = (paper.high[axis] + _BARE_MARGIN_MM for axis in (0, 1))
    width, height = right - left, bottom - top
    svg = _sheet((left, top, width, height), title, description, pixels_per_mm)
    svg.append(_drawn(paper))
    return Picture(ET.tostring(svg, encoding="unicode") + "\n", width, height, title)


def _sheet(
    frame: tuple[float, float, float, float], title: str, description: str, pixels_per_mm: float
) -> ET.Element:
    svg = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": " ".join(map(number, frame)),
            "width": number(frame[2] * pixels_per_mm),
            "height": number(frame[3] * pixels_per_mm),
            "role": "img",
        },
    )
    ET.SubElement(svg, "title").text = clean(title)
    ET.SubElement(svg, "desc").text = clean(description)
    return svg


def _drawn(paper: Paper) -> ET.Element:
    paper.root.set("stroke-linecap", "round")
    paper.root.set("fill", "none")
    return paper.root


def _caption(
    svg: ET.Element, geometry: FlyGeometry, title: str, left: float, bottom: float, right: float
) -> None:
    scale = 5.0
    group = ET.SubElement(svg, "g", {"data-part": "scale", "stroke": INK, "stroke-width": "0.08"})
    up = bottom - 0.2
    for start, end in (((left, up), (left + scale, up)), ((left, up - 0.3), (left, up + 0.3)),
                       ((left + scale, up - 0.3), (left + scale, up + 0.3))):  # fmt: skip
        ET.SubElement(
            group, "line",
            {"x1": number(start[0]), "y1": number(start[1]), "x2": number(end[0]),
             "y2": number(end[1])},
        )  # fmt: skip
    words = {
        "font-family": "'Libertinus Serif', 'Linux Libertine', Georgia, serif", "font-size": "1.1",
        "fill": INK,
    }  # fmt: skip
    tell = ET.SubElement(svg, "text", {**words, "x": number(left + scale + 0.5),
                                       "y": number(bottom + 0.15)})  # fmt: skip
    tell.text = "5 mm"
    caption = ET.SubElement(
        svg, "text",
        {**words, "x": number(left), "y": number(bottom - 1.3), "font-style": "italic"},
    )  # fmt: skip
    room = int((right - left) / 0.55)
    shown = clean(title)
    told = f"{shown}, hook size {geometry.hook.size}"
    caption.text = told if len(told) <= room else f"{told[: room - 1]}…"


def clean(text: str) -> str:
    """Return a text without characters that XML has no place for."""
    return "".join(
        one
        if one in "\t\n" or (one.isprintable() and ord(one) >= 32)
        else "\N{REPLACEMENT CHARACTER}"
        for one in text
    )
