"""The flies of a derivation, drawn without captions, to be hung on its picture."""

from __future__ import annotations

from dataclasses import replace

from variants.design import DesignProblem
from variants.explain.derivation import BASE, Descent
from variants.geometry import Layout
from variants.model import Variant
from variants.pictures import Picture, draw_fly


def fly_pictures(design: DesignProblem, layout: Layout, whole: Descent) -> dict[str, Picture]:
    """Return a picture of every dressing in a derivation, those in between included.

    Raises
    ------
    ValueError
        When the hook's dimensions are not known.
    """
    pictures: dict[str, Picture] = {}
    for node, values in whole.graph.nodes(data=True):
        fly = None
        if node != BASE:
            fly = Variant(values["rank"] or 0, whole.dressings[node], values["departure"])
        picture = draw_fly(design, layout, fly, captioned=False, stated=fly is None)
        pictures[node] = replace(picture, title=f"{design.request.base.name}, {values['label']}")
    return pictures
