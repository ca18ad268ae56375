"""A whole fly on its paper, with a scale bar, a caption and words for who can't see it."""

from __future__ import annotations

from typing import Literal

from variants.design import DesignProblem, adapted_parts
from variants.geometry import Layout, fly_geometry
from variants.model import HOOK, Variant
from variants.pictures.frame import Picture, crop_drawing, frame_drawing
from variants.pictures.head_on import draw_head_on
from variants.pictures.key import Entry
from variants.pictures.paper import Paper
from variants.pictures.profile import FlyView, draw_profile
from variants.pictures.spine import Spine

View = Literal["profile", "front", "both"]
_SEEN: dict[View, str] = {
    "profile": "from the side",
    "front": "from in front",
    "both": "from the side and from in front",
}
_BETWEEN_MM = 2.5
#: How many pixels a millimetre takes where nobody says.
PIXELS_PER_MM = 26.0


def draw_fly(
    design: DesignProblem,
    layout: Layout,
    variant: Variant | None = None,
    *,
    pixels_per_mm: float = PIXELS_PER_MM,
    captioned: bool = True,
    patterns: bool = False,
    view: View = "profile",
    stated: bool = False,
) -> Picture:
    """Return the fly to scale: in profile with its head to the left, from in front, or both.

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
    patterns : bool
        Whether areas are hatched by their family of colour, with a key of all parts under the
        drawing: for who does not see colours well, and for copies in black and white.
    view : {"profile", "front", "both"}
    stated : bool
        Whether the dressing has its own counts also where the request names a water.

    Notes
    -----
    The same fly is the same drawing, to the byte: chance is seeded, part by part, by what the part
    is made of, so that a variant's unchanged parts are drawn as its base's are.
    """
    geometry = fly_geometry(design, layout, variant, stated=stated)
    base = design.stated if stated else design.base
    chosen = variant.chosen if variant is not None else base
    fly = FlyView(geometry, layout, chosen)
    paper, spine = _draw(fly, patterns, view)
    subject = fly, spine
    name = design.request.base.name
    title = name if variant is None else f"{name}, variant {variant.rank}"
    adapted = "" if stated and variant is None else _tell_adapted(design, fly)
    described = _describe(design, fly, view, adapted)
    key = _key(design, fly) if patterns else []
    if not captioned:
        return crop_drawing(paper, subject, title, described, pixels_per_mm, key)
    told = f", {adapted}" if adapted else ""
    caption = f"{title}, hook size {geometry.hook.size}{told}"
    return frame_drawing(paper, subject, title, caption, described, pixels_per_mm, key)


def _draw(fly: FlyView, patterns: bool, view: View) -> tuple[Paper, Spine | None]:
    """Return the paper with the views asked, and the line of the profile if it is one of them."""
    front = Paper(0.0, is_hatched=patterns)
    if view != "profile":
        draw_head_on(front, fly)
    if view == "front":
        return front, None
    paper = Paper(fly.geometry.hook.shank_mm, is_hatched=patterns)
    spine = draw_profile(paper, fly)
    if view == "both":
        paper.beside(front, _BETWEEN_MM)
    return paper, spine


def _key(design: DesignProblem, fly: FlyView) -> list[Entry]:
    """Return a line of the key for each part that shows a colour, in tying order."""
    parts = design.rulebook.trade.parts
    return [
        Entry(f"{parts[part].name}: {one.words}", fly.inks(part))
        for part, one in fly.chosen.items()
        if one.ingredients and part != HOOK and parts[part].is_seen
    ]


def _tell_adapted(design: DesignProblem, fly: FlyView) -> str:
    """Return the water that the fly is drawn for, and the counts that it changes."""
    counts = adapted_parts(fly.chosen, design.rulebook.trade.parts)
    water = f"{design.request.water} water" if design.request.water else ""
    return ": ".join(filter(None, [water, counts]))


def _describe(design: DesignProblem, fly: FlyView, view: View, adapted: str) -> str:
    style = design.rulebook.trade.styles[design.request.base.style].name
    parts = design.rulebook.trade.parts
    told = [
        f"{parts[part].name}: {one.words}" if part in parts else f"{part}: {one.words}"
        for part, one in fly.chosen.items()
        if one.ingredients
    ]
    size = fly.geometry.hook.size
    tied = f", for {adapted}" if adapted else ""
    words = "; ".join(told)
    return f"A {style} on a hook size {size}, seen {_SEEN[view]}{tied}. {words}."
