"""What may be bought for a book: what its dressings write, or lawful stand-ins for it.

Each dressing's materials come in, each in its colour and hooks in their sizes; things to buy go
out, each once. What may not be had freely is never among them: the nearest stuff without a caution
stands in for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from variants.design import Lot, may_fill
from variants.explain import StandInQuery, find_stand_ins
from variants.model import HOOK, Dressing, Ingredient, Item, Part
from variants.reading.prices import Prices
from variants.rulebook import Rulebook
from variants.survey.survey import Wishes

#: Begins the id of an item that is bought; no item of a box has a blank before its name.
BOUGHT = " bought "


@dataclass(frozen=True, slots=True)
class Offer:
    """Something to buy.

    Attributes
    ----------
    ingredient : Ingredient
    size : int or None
        Of a hook.
    stands_for : str
        Trade name of what it stands in for, where that may not be had freely; empty otherwise.
    price : float or None
    """

    ingredient: Ingredient
    size: int | None = None
    stands_for: str = ""
    price: float | None = None

    @property
    def key(self) -> tuple[str, ...]:
        """A stable key."""
        return (*self.ingredient.key, str(self.size or ""))

    @property
    def words(self) -> str:
        """What to ask for in the shop."""
        sized = "" if self.size is None else f", size {self.size}"
        return f"{self.ingredient.words}{sized}"


def offers_of(
    dressings: Iterable[Dressing],
    rulebook: Rulebook,
    wishes: Wishes,
    prices: Prices,
) -> list[Offer]:
    """Return everything that the book asks for, each once, in the order of its keys."""
    found: dict[tuple[str, ...], Offer] = {}
    for dressing in dressings:
        for part in dressing.parts:
            for offer in offers_for(dressing, part, rulebook, wishes):
                found.setdefault(offer.key, offer)
    return [replace(one, price=_price(one, prices)) for _, one in sorted(found.items())]


def _price(offer: Offer, prices: Prices) -> float | None:
    found = prices.of(offer.ingredient.material, offer.ingredient.colour, offer.size)
    return None if found is None else found.price


def offers_for(
    dressing: Dressing, part: Part, rulebook: Rulebook, wishes: Wishes
) -> Iterator[Offer]:
    """Yield what a part asks for: each material written, or what stands in for it."""
    if part.id == HOOK:
        for size in wishes.sizes or dressing.sizes:
            for way in part.ways:
                yield Offer(Ingredient(way.ingredients[0].material), size)
        return
    for ingredient in dict.fromkeys(one for way in part.ways for one in way.ingredients):
        material = ingredient.material
        natural = material.natural_colour
        colour = ingredient.colour or (rulebook.trade.colours.get(natural) if natural else None)
        if not material.restriction and material.id not in wishes.missing:
            yield Offer(Ingredient(material, colour))
            continue
        asked = StandInQuery(material, part.id, dressing.style, ingredient.colour)
        for answer in find_stand_ins(rulebook.likeness, asked).answers:
            first = answer.first
            is_to_be_had = (
                not first.material.restriction and first.material.id not in wishes.missing
            )
            if is_to_be_had and may_fill(first.material, part, dressing.style, rulebook.likeness):
                shade = next(iter(first.colours), colour)
                yield Offer(Ingredient(first.material, shade), None, material.name)
                break


def lot_of(offer: Offer, number: int) -> Lot:
    """Return a purchase as the box would hold it: of no measured length, and plenty of it."""
    item = Item(
        f"{BOUGHT}{number}",
        offer.ingredient.material,
        offer.ingredient.colour,
        sizes=None if offer.size is None else (offer.size,),
    )
    return Lot(Ingredient(item.material, item.colour), (item,), None)
