"""What a fly costs: its share of each item that it is taken from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from variants.geometry.uses import Use
from variants.model import Item


@dataclass(frozen=True, slots=True)
class Cost:
    """The cost of one fly.

    Attributes
    ----------
    total : float
        In whatever money the prices are written, over the parts whose price is known.
    unpriced : tuple of str
        Parts of which no price is known.
    """

    total: float
    unpriced: tuple[str, ...]


def cost_of(uses: Iterable[Use]) -> Cost:
    """Return what one fly costs.

    Notes
    -----
    Of an item bought for a price, a fly pays the share of what was bought that it takes: a cape of
    40 feathers at 20 makes each feather 0.50.
    """
    total, unpriced = 0.0, []
    for use in uses:
        share = _share(use, use.items[0]) if use.items else None
        if share is None:
            unpriced.append(use.part)
        else:
            total += share
    return Cost(total, tuple(dict.fromkeys(unpriced)))


def _share(use: Use, item: Item) -> float | None:
    bought = item.bought if item.bought is not None else item.amount
    if item.price is None or bought is None or not float(bought.magnitude) > 0:
        return None
    taken = use.of(replace(item, amount=bought))
    return None if taken is None else item.price * taken / float(bought.magnitude)
