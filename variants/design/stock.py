"""The box sorted for the search: usable items, grouped where nothing tells them apart."""

from __future__ import annotations

from collections.abc import Callable, Container, Hashable, Iterable
from functools import cached_property
from operator import attrgetter

from variants.model import Attributes, Box, Ingredient, Item
from variants.rulebook import SINGLE_SIDES, ingredient_attributes

#: More pieces of one item than any single fly takes: beyond this, counts look alike.
PLENTY = 12


class Lot:
    """Items alike in everything that a rule looks at; any of them does the same work.

    Attributes
    ----------
    ingredient : Ingredient
    items : tuple of Item
        In order of their ids; the first one speaks for all.
    pieces : int or None
        How many pieces are left in each, when few; None for plenty or uncounted.
    item : Item
        The item that speaks for the lot.
    key : tuple of str
        A stable key that does not depend on the order of the box.
    """

    __slots__ = ("ingredient", "item", "items", "key", "pieces")

    def __init__(self, ingredient: Ingredient, items: tuple[Item, ...], pieces: int | None) -> None:
        self.ingredient, self.items, self.pieces = ingredient, items, pieces
        self.item = items[0]
        self.key = (*ingredient.key, self.item.id)


class Stuff:
    """All lots of one material in one colour.

    Attributes
    ----------
    ingredient : Ingredient
    lots : tuple of Lot
    """

    def __init__(self, ingredient: Ingredient, lots: tuple[Lot, ...]) -> None:
        self.ingredient, self.lots = ingredient, lots

    @cached_property
    def attributes(self) -> Attributes:
        """What the tables tell of it."""
        return ingredient_attributes(self.ingredient)

    def side(self, side: str) -> list[Lot]:
        """Return the lots of feathers from one side of the bird."""
        return [lot for lot in self.lots if lot.item.side == side]

    @cached_property
    def has_both_sides(self) -> bool:
        """Whether there are single feathers from either side, to make pairs of."""
        if len(self.lots) == 1:
            return False
        found = {lot.item.side for lot in self.lots}
        return all(side in found for side in SINGLE_SIDES)

    @cached_property
    def is_scarce(self) -> bool:
        """Whether any lot of it is of few pieces."""
        return any(lot.pieces is not None for lot in self.lots)


class Stock:
    """A box sorted once, for every part and every dressing that asks of it.

    Parameters
    ----------
    lots : tuple of Lot
    """

    def __init__(self, lots: tuple[Lot, ...]) -> None:
        self.lots = lots
        self.stuffs = stuffs_of(lots)
        self._serving: dict[Hashable, list[list[Stuff]]] = {}

    def serving(self, role: Hashable, materials: Callable[[], Container[str]]) -> list[list[Stuff]]:
        """Return the stuffs of the materials that serve in a role, the colours of one together.

        What is found for a role is kept; ``materials`` tells their ids when they are asked for.
        """
        found = self._serving.get(role)
        if found is None:
            ids = materials()
            found = [own for own in self._by_material if own[0].ingredient.material.id in ids]
            self._serving[role] = found
        return found

    @cached_property
    def _by_material(self) -> list[list[Stuff]]:
        grouped: dict[str, list[Stuff]] = {}
        for one in self.stuffs:
            grouped.setdefault(one.ingredient.material.id, []).append(one)
        return list(grouped.values())

    def without(self, is_gone: Callable[[Ingredient], bool]) -> Stock:
        """Return the stock less some of its stuffs."""
        kept = tuple(lot for lot in self.lots if not is_gone(lot.ingredient))
        return self if len(kept) == len(self.lots) else Stock(kept)


def stock_of(box: Box, missing: frozenset[str] = frozenset()) -> Stock:
    """Sort a box, less items and materials named as missing; time linear in the items."""
    return Stock(sort_into_lots(box, missing))


def stuffs_of(lots: Iterable[Lot]) -> list[Stuff]:
    """Group lots by what they are, in their order."""
    grouped: dict[tuple[str, ...], list[Lot]] = {}
    for lot in lots:
        grouped.setdefault(lot.key[:2], []).append(lot)
    return [Stuff(alike[0].ingredient, tuple(alike)) for alike in grouped.values()]


def sort_into_lots(box: Box, missing: frozenset[str]) -> tuple[Lot, ...]:
    """Group the items that are left and not named as missing.

    Complexity is linear in the number of items. Items of which few pieces are left stand alone,
    so that two parts can't share the last feather unseen.
    """
    lots: dict[object, list[Item]] = {}
    for item in box.items:
        few = _few(item)
        if (few is not None and item.is_gone) or item.id in missing or item.material.id in missing:
            continue
        lots.setdefault(item.make if few is None else (few, item.id), []).append(item)
    return tuple(sorted(map(_lot, lots.values()), key=attrgetter("key")))


def _few(item: Item) -> int | None:
    """Return how many pieces are left where they are few; something else that is gone has none."""
    count = item.count
    if count is None:
        return 0 if item.is_gone else None
    return count if count < PLENTY else None


def _lot(items: list[Item]) -> Lot:
    items.sort(key=attrgetter("id"))
    first = items[0]
    return Lot(Ingredient(first.material, first.colour), tuple(items), _few(first))
