"""What a class lays out, and what is to be bought: on a terminal and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Any

from variants.explain.wording import join_words, part_name, pluralize
from variants.geometry.measured import Counted, Measured
from variants.model import Ingredient, Trade
from variants.reading.prices import Price
from variants.survey.class_kit import KitItem
from variants.survey.shopping import ToBuy
from variants.text import printable
from variants.views.amounts import taken_words
from variants.views.columns import wrap

#: Less than this is told as a pinch: no kitchen scale shows it (common practice).
PINCH_MG = 50.0
#: A hair of slack: twelve lots of a twelfth are one feather, whatever the last digit says.
_SLACK = 1e-9


def kit_lines(kit: Sequence[KitItem], students: int, trade: Trade) -> list[str]:
    """Return what is laid out for a class, and at each place."""
    lines = ["  Flies    In all  Each place  What"]
    for one in kit:
        place = Measured(one.taken.counted, one.taken.amount / students)
        name = join_words(part_name(trade.parts, part) for part in one.parts)
        told = f"{name}: {_stuff(one.ingredient, one.size)}"
        amounts = f"{measured_words(one.taken):>8}  {measured_words(place):>10}"
        head = f"  {one.flies:>5}  {amounts}  "
        lines += wrap(told, initial_indent=head, subsequent_indent=" " * (len(head) + 2))
    return lines


def shopping_lines(bought: Sequence[ToBuy]) -> list[str]:
    """Return the list for the shop, with packs and prices where they are known."""
    lines = []
    for one in bought:
        told = _stuff(one.ingredient, one.size)
        if one.price is not None:
            told += f", {_packs_words(one.packs, one.price)}"
        told += f", for {join_words(printable(name) for name in one.names)}"
        if one.ingredient.material.caution:
            told += f". Caution: {printable(one.ingredient.material.caution)}"
        head = f"{measured_words(one.wanting):>11}  "
        lines += wrap(told, initial_indent=head, subsequent_indent=" " * (len(head) + 2))
    return lines


def _packs_words(packs: int | None, price: Price) -> str:
    if packs is None:
        return f"{price.price:.2f} (what one gets for it is not noted)"
    return f"{packs} × {price.amount:~g} at {price.price:.2f}"


def measured_words(measured: Measured) -> str:
    """Return an amount as it is laid out: whole pieces, a length, a weight or a pinch."""
    amount = measured.amount
    if measured.counted is Counted.PIECES:
        return str(ceil(amount - _SLACK))
    if measured.counted is Counted.LENGTH:
        return taken_words(None, amount, None)
    return "a pinch" if amount < PINCH_MG else taken_words(None, None, amount)


def _stuff(ingredient: Ingredient, size: int | None) -> str:
    sized = "" if size is None else f", size {size}"
    return f"{printable(ingredient.words)}{sized}"


def cost_lines(
    tied: float, unpriced: Sequence[str], bought: Sequence[ToBuy], students: int
) -> list[str]:
    """Return what the flies cost from the box, what is to be bought, and each student's share."""
    paid = sum(one.cost or 0.0 for one in bought)
    if not tied and not paid:
        return []
    told = []
    if tied:
        without = (
            f", without {join_words(unpriced)} of some, whose price is not noted"
            if unpriced
            else ""
        )
        told.append(f"What is taken from the box costs {tied:.2f}{without}.")
    if paid:
        unknown = sum(one.cost is None for one in bought)
        without = f", without {pluralize(unknown, 'thing')} of unknown price" if unknown else ""
        told.append(f"What is to be bought costs {paid:.2f}{without}.")
    if students > 1:
        told.append(f"That is {(tied + paid) / students:.2f} for each of {students} students.")
    return wrap(" ".join(told))


def kit_json(kit: Sequence[KitItem], students: int) -> list[dict[str, Any]]:
    """Return what is laid out; amounts in pieces, mm or mg."""
    return [
        {
            "parts": list(one.parts),
            **_stuff_json(one.ingredient, one.size),
            **_measured_json(one.taken),
            "each_place": one.taken.amount / students,
            "flies": one.flies,
        }
        for one in kit
    ]


def shopping_json(bought: Sequence[ToBuy]) -> list[dict[str, Any]]:
    """Return the list for the shop."""
    return [
        {
            "part": one.part,
            **_stuff_json(one.ingredient, one.size),
            **_measured_json(one.wanting),
            "dressings": list(one.names),
            "price": None if one.price is None else one.price.price,
            "packs": one.packs,
            "cost": one.cost,
        }
        for one in bought
    ]


def _stuff_json(ingredient: Ingredient, size: int | None) -> dict[str, Any]:
    colour = ingredient.colour.id if ingredient.colour else None
    return {"material": ingredient.material.id, "colour": colour, "size": size}


def _measured_json(measured: Measured) -> dict[str, Any]:
    return {"amount": measured.amount, "unit": measured.counted.value}
