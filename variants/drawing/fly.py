"""A whole fly on its paper, with a scale bar, a caption and words for who can't see it."""

from __future__ import annotations

from variants.drawing.frame import Picture, bare, framed
from variants.drawing.key import Entry
from variants.drawing.paper import Paper
from variants.drawing.profile import HIDDEN, Sitter, draw_profile
from variants.geometry import Layout, fly_geometry
from variants.model import Variant
from variants.problem import DesignProblem

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
    patterns : bool
        Whether areas are hatched by their family of colour, with a key of all parts under the
        drawing: for who does not see colours well, and for copies in black and white.

    Notes
    -----
    The same fly is the same drawing, to the byte: chance is seeded, part by part, by what the part
    is made of, so that a variant's unchanged parts are drawn as its base's are.
    """
    geometry = fly_geometry(design, layout, variant)
    chosen = variant.chosen if variant is not None else design.base
    sitter = Sitter(geometry, layout, chosen)
    paper = Paper(geometry.hook.shank_mm, is_hatched=patterns)
    sitting = sitter, draw_profile(paper, sitter)
    name = design.request.base.name
    title = name if variant is None else f"{name}, variant {variant.rank}"
    described = _described(design, sitter)
    key = _key(design, sitter) if patterns else []
    if not captioned:
        return bare(paper, sitting, title, described, pixels_per_mm, key)
    caption = f"{title}, hook size {geometry.hook.size}"
    return framed(paper, sitting, title, caption, described, pixels_per_mm, key)


def _key(design: DesignProblem, sitter: Sitter) -> list[Entry]:
    """Return a line of the key for each part that shows a colour, in tying order."""
    parts = design.rulebook.trade.parts
    return [
        Entry(f"{parts[part].name}: {one.words}", sitter.inks(part))
        for part, one in sitter.chosen.items()
        if one.ingredients and part not in ("hook", *HIDDEN)
    ]


def _described(design: DesignProblem, sitter: Sitter) -> str:
    style = design.rulebook.trade.styles[design.request.base.style].name
    parts = design.rulebook.trade.parts
    told = [
        f"{parts[part].name}: {one.words}" if part in parts else f"{part}: {one.words}"
        for part, one in sitter.chosen.items()
        if one.ingredients
    ]
    size = sitter.geometry.hook.size
    return f"A {style} on a hook size {size}, seen from the side. {'; '.join(told)}."
