"""The shopping list of a batch: what is wanting for the flies not tied, and what it costs.

A plan and a shop's prices come in; each thing to buy comes out once, with how much of it, how many
packs that is and what they cost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import TYPE_CHECKING

from variants.geometry import Use
from variants.geometry.measured import Counted, Measured, measured
from variants.model import HOOK, Ingredient
from variants.reading.prices import Price, Prices
from variants.survey.batches import BatchPlan

if TYPE_CHECKING:
    from pint import Quantity

#: A hair of slack: three packs of 0.1 g are 0.3 g, whatever the last digit says.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One thing on the list.

    Attributes
    ----------
    part : str
    ingredient : Ingredient
    size : int or None
        Of a hook.
    wanting : Measured
        Beyond what the box has left.
    names : tuple of str
        The dressings that want it.
    price : Price or None
        The shop's; where it tells none, what the owner paid last time.
    """

    part: str
    ingredient: Ingredient
    size: int | None
    wanting: Measured
    names: tuple[str, ...]
    price: Price | None

    @property
    def packs(self) -> int | None:
        """How many packs it is; None when nobody tells what is in one."""
        if self.price is None or self.price.amount is None:
            return None
        packs = self.wanting.in_units_of(self.price.amount)
        return None if packs is None else max(1, ceil(packs - _SLACK))

    @property
    def cost(self) -> float | None:
        """What it costs: whole packs, or one where nobody tells what is in it."""
        return None if self.price is None else self.price.price * (self.packs or 1)


@dataclass
class _Entry:
    use: Use
    size: int | None
    counted: Counted
    price: Price | None
    amount: float = 0.0
    names: dict[str, None] = field(default_factory=dict)


def make_shopping_list(plan: BatchPlan, prices: Prices) -> tuple[ToBuy, ...]:
    """Return what is to be bought so that the flies left over can be tied as well.

    Parameters
    ----------
    plan : BatchPlan
    prices : Prices

    Notes
    -----
    What is left in the box once the batch is tied is taken off the list, once for all dressings
    that want the same. Of a dressing that nothing in the box ties, only what has to be bought is
    reckoned.
    """
    entries: dict[tuple[object, ...], _Entry] = {}
    left: dict[tuple[object, ...], float] = {}
    for short in plan.short:
        for use, _ in short.needs:
            taken = measured(use)
            if taken is None:
                continue
            size = short.wanted.size if use.part == HOOK else None
            key = use.ingredient.key, size, taken.counted
            entry = entries.setdefault(
                key, _Entry(use, size, taken.counted, _price(use, size, prices))
            )
            entry.amount += taken.amount * short.count
            entry.names[short.wanted.dressing.name] = None
            left[key] = _amount_left(use, taken.counted, plan)
    return tuple(
        ToBuy(
            entry.use.part,
            entry.use.ingredient,
            entry.size,
            Measured(entry.counted, max(0.0, entry.amount - left[key])),
            tuple(entry.names),
            entry.price,
        )
        for key, entry in entries.items()
    )


def _price(use: Use, size: int | None, prices: Prices) -> Price | None:
    found = prices.of(use.ingredient.material, use.ingredient.colour, size)
    first = use.items[0] if use.items else None
    if found is not None or first is None or first.price is None:
        return found
    bought = first.bought if first.bought is not None else first.amount
    return Price(first.price, bought)


def _amount_left(use: Use, counted: Counted, plan: BatchPlan) -> float:
    """Return what the plan leaves of the items that a use takes from."""
    for store in plan.stores:
        if store.items == use.items:
            amount = store.items[0].amount
            if amount is None:
                return 0.0
            one_unit = 1.0 * amount.units
            return _magnitude(store.left * one_unit, counted)
    return sum(_magnitude(item.amount, counted) for item in use.items if item.amount is not None)


def _magnitude(quantity: Quantity[float], counted: Counted) -> float:
    if not quantity.is_compatible_with(counted.value):
        return 0.0
    return float(quantity.to(counted.value).magnitude)


def total(bought: Sequence[ToBuy]) -> float:
    """Return what all costs whose price is known."""
    return sum(one.cost or 0.0 for one in bought)
