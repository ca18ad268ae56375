"""The kit of a class: what is laid out for all that a batch ties, stuff by stuff.

The flies of a plan come in, with what one of each uses; what is taken of each stuff in all comes
out. A student's share of it is a matter of division.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from variants.geometry import Tied
from variants.geometry.measured import Counted, Measured, measured
from variants.model import HOOK, Ingredient
from variants.reading.batches import Batch


@dataclass(frozen=True, slots=True)
class KitItem:
    """One stuff on the table.

    Attributes
    ----------
    parts : tuple of str
        Ids of the parts that it becomes.
    ingredient : Ingredient
    size : int or None
        Of a hook.
    taken : Measured
        Of all flies together.
    flies : int
        So many of the flies want it.
    """

    parts: tuple[str, ...]
    ingredient: Ingredient
    size: int | None
    taken: Measured
    flies: int


@dataclass
class _Pile:
    ingredient: Ingredient
    size: int | None
    counted: Counted
    parts: dict[str, None] = field(default_factory=dict)
    amount: float = 0.0
    flies: int = 0


def scale_for_class(batch: Batch, students: int) -> Batch:
    """Return the batch with its flies wanted by each of so many students."""
    flies = tuple(replace(one, count=one.count * students) for one in batch.flies)
    return Batch(batch.name, flies)


def lay_out_kit(tied: Iterable[Tied]) -> tuple[KitItem, ...]:
    """Return all that some flies take, in the order in which they come to it."""
    piles: dict[tuple[object, ...], _Pile] = {}
    for one in tied:
        wanting = set()
        for use in one.uses:
            taken = measured(use)
            if taken is None:
                continue
            size = one.wanted.size if use.part == HOOK else None
            key = use.ingredient.key, size, taken.counted
            pile = piles.setdefault(key, _Pile(use.ingredient, size, taken.counted))
            pile.parts[use.part] = None
            pile.amount += taken.amount * one.count
            wanting.add(key)
        for key in wanting:
            piles[key].flies += one.count
    return tuple(
        KitItem(
            tuple(pile.parts),
            pile.ingredient,
            pile.size,
            Measured(pile.counted, pile.amount),
            pile.flies,
        )
        for pile in piles.values()
    )
