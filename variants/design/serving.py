"""Which stuff may be tried in a part at all; how far it departs is told elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from variants.design.stock import Stock, Stuff
from variants.model import Ingredient, Material, Part
from variants.rulebook import Likeness


def serving(stock: Stock, part: Part, style: str, likeness: Likeness) -> list[list[Stuff]]:
    """Return a stock's stuffs that may be tried in a part, the colours of one material together.

    Parameters
    ----------
    stock : Stock
    part : Part
        In one of the ways that its author allows.
    style : str
    likeness : Likeness
    """
    role = style, part.id, part.signature, tuple([one.material.id for one in part.ingredients])
    return stock.serving(role, lambda: materials_for(part, style, likeness))


def materials_for(part: Part, style: str, likeness: Likeness) -> frozenset[str]:
    """Return the ids of the materials that may be tried in a part.

    The part that makes the fly what it is stays of its kind.
    """
    return frozenset[str]().union(
        *(_in_place_of(one, part, style, likeness) for one in part.ingredients)
    )


def _in_place_of(wanted: Ingredient, part: Part, style: str, likeness: Likeness) -> Iterator[str]:
    stuff = likeness.trade.materials
    for found in likeness.serving(wanted.material, part.id, style):
        if not part.signature or likeness.is_same_kind(wanted.material, stuff[found]):
            yield found


def may_fill(found: Material, part: Part, style: str, likeness: Likeness) -> bool:
    """Tell whether a material may be tried in a part."""
    return found.id in materials_for(part, style, likeness)
