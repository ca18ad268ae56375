"""How many flies of one variant a box gives, and what runs out first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor

from variants.geometry.uses import Use
from variants.model import Item

#: A hair of slack: 0.3 m of wire holds three lengths of 0.1 m, whatever the last digit says.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Supply:
    """What one lot of items gives for one variant.

    Attributes
    ----------
    parts : tuple of str
        The parts that take from it.
    items : tuple of Item
        Alike; a fly takes from one of them.
    each : float
        What one fly takes, in the unit in which the items are counted.
    flies : int
        How many flies they give.
    """

    parts: tuple[str, ...]
    items: tuple[Item, ...]
    each: float
    flies: int


def supplies(uses: Iterable[Use]) -> tuple[Supply, ...]:
    """Return what every counted lot gives, the scarcest first.

    Notes
    -----
    Parts that take from the same lot are added up. A fly takes what it needs of a lot from one
    item, so each item gives the whole flies that are in it: ends of two spools make no rib.
    """
    lots: dict[tuple[str, ...], list[Use]] = {}
    for use in uses:
        if use.items:
            lots.setdefault(tuple(item.id for item in use.items), []).append(use)
    found = []
    for together in lots.values():
        items = together[0].items
        each = [_each(together, item) for item in items]
        if any(one is None for one in each):
            continue
        flies = sum(
            floor(float(item.amount.magnitude) / one + _SLACK)
            for item, one in zip(items, each, strict=True)
            if item.amount is not None and one
        )
        parts = tuple(dict.fromkeys(use.part for use in together))
        found.append(Supply(parts, items, each[0] or 0.0, flies))
    return tuple(sorted(found, key=lambda one: (one.flies, one.parts)))


def _each(uses: Iterable[Use], item: Item) -> float | None:
    """Return what one fly takes of an item in all; None when that is not known."""
    taken = [use.of(item) for use in uses]
    if any(one is None for one in taken):
        return None
    return sum(one for one in taken if one is not None) or None


def flies_from(uses: Iterable[Use]) -> int | None:
    """Return how many flies a box gives; None when nothing of it is counted."""
    found = supplies(uses)
    return found[0].flies if found else None
