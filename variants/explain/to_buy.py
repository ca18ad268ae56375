"""What to buy so that a part can be filled: as written, or a stand-in where that is not to be had.

A part of a design problem comes in; its purchases come out, and the items that they would be in a
box. Nothing is tried here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from variants.design import DesignProblem, may_fill
from variants.explain.instead import find_stand_ins
from variants.explain.stand_ins import StandInQuery
from variants.model import HOOK, Colour, Ingredient, Item, Material, Part

_BOUGHT = "bought"


@dataclass(frozen=True, slots=True)
class Purchase:
    """Something to buy: stuff in a colour, and what it has to measure where that matters.

    Attributes
    ----------
    part : str
    ingredient : Ingredient
    size : int or None
        Of a hook.
    is_stand_in : bool
        Whether it is not what the dressing writes, because that may not be had freely.
    """

    part: str
    ingredient: Ingredient
    size: int | None = None
    is_stand_in: bool = False


def find_purchases_for(design: DesignProblem, part_id: str) -> Iterator[Purchase]:
    """Yield what would fill a part: as written, or a stand-in where that may not be had freely."""
    request = design.request
    part = request.base.part(part_id)
    if part is None:
        return
    if part_id == HOOK:
        yield Purchase(
            part_id,
            Ingredient(part.ingredients[0].material),
            (request.sizes or (request.base.size,))[0],
        )
        return
    is_missing = part_id in request.missing
    for ingredient in part.ingredients:
        material = ingredient.material
        if material.restriction or is_missing or material.id in request.missing:
            stand_in = _find_stand_in(design, part, ingredient)
            if stand_in is not None:
                yield Purchase(part_id, stand_in, is_stand_in=True)
                continue
        yield Purchase(part_id, Ingredient(material, _colour_to_buy(design, ingredient)))


def _colour_to_buy(design: DesignProblem, ingredient: Ingredient) -> Colour | None:
    """Return the colour to buy: the one written, or the natural one."""
    natural = ingredient.material.natural_colour
    return ingredient.colour or (design.rulebook.trade.colours.get(natural) if natural else None)


def _find_stand_in(design: DesignProblem, part: Part, wanted: Ingredient) -> Ingredient | None:
    style = design.request.base.style
    asked = StandInQuery(wanted.material, part.id, style, wanted.colour)
    for answer in find_stand_ins(design.rulebook.likeness, asked).answers:
        first = answer.first
        is_to_be_had = (
            not first.material.restriction and first.material.id not in design.request.missing
        )
        if is_to_be_had and may_fill(first.material, part, style, design.rulebook.likeness):
            return Ingredient(
                first.material, _nearest_colour(first.material, first.colours, wanted)
            )
    return None


def _nearest_colour(
    material: Material, colours: Iterable[Colour], wanted: Ingredient
) -> Colour | None:
    return next(iter(colours), wanted.colour if "any" in material.colours else None)


def item_of(purchase: Purchase, number: int) -> Item:
    """Return the purchase as an item of a box; numbers tell several apart."""
    sizes = None if purchase.size is None else (purchase.size,)
    return Item(
        f"{_BOUGHT} {number}", purchase.ingredient.material, purchase.ingredient.colour, sizes=sizes
    )
