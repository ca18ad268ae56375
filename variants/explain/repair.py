"""One way out of a problem without a variant, tried by solving again.

A changed request comes in, with what would be bought for it; the repair comes out, if it works.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache

from variants.design import DesignProblem, Lot, Request, Stock, Watch, build_problem, stock_of
from variants.design.search import search
from variants.explain.to_buy import Purchase, item_of
from variants.model import Box, Variant


class Effort(IntEnum):
    """How much a repair asks of the tyer, least first."""

    SIZE = 1
    PART = 2
    LIMIT = 3
    PURCHASE = 4
    RULE = 5
    TOGETHER = 6


@dataclass(frozen=True, slots=True)
class Repair:
    """One way out, and the closest variant that it gives.

    Attributes
    ----------
    effort : Effort
    says : str
        What to do, in trade words.
    purchases : tuple of Purchase
    design : DesignProblem
        As repaired.
    variant : Variant
    """

    effort: Effort
    says: str
    purchases: tuple[Purchase, ...]
    design: DesignProblem
    variant: Variant


def try_repair(
    design: DesignProblem,
    request: Request,
    effort: Effort,
    says: str,
    purchases: tuple[Purchase, ...] = (),
    watch: Watch | None = None,
) -> Repair | None:
    """Return the repair when the changed request has a variant."""
    stock = _stocks(design, request, purchases)
    again = build_problem(request, design.rulebook, stock, watch)
    if request.max_changes is not None and len(must_change(again)) > request.max_changes:
        return None
    best = search(again, 1, watch=watch).variants
    return Repair(effort, says, purchases, again, best[0]) if best else None


@lru_cache(maxsize=8)
def _sorted_box(box: _Held, missing: frozenset[str]) -> Stock:
    return stock_of(box.box, missing)


class _Held:
    """A box by its identity: comparing two by their items would take as long as sorting them."""

    def __init__(self, box: Box) -> None:
        self.box = box

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Held) and self.box is other.box

    def __hash__(self) -> int:
        return id(self.box)


def _stocks(design: DesignProblem, request: Request, purchases: tuple[Purchase, ...]) -> Stock:
    """Return the box sorted, with the purchases in it; the box itself is sorted once."""
    known = _sorted_box(_Held(design.request.box), request.missing_stuff)
    if not purchases:
        return known
    lots = [
        Lot(one.ingredient, (item_of(one, number),), None) for number, one in enumerate(purchases)
    ]
    return Stock(tuple(sorted((*known.lots, *lots), key=lambda lot: lot.key)))


def must_change(design: DesignProblem) -> list[str]:
    """Return the parts that the box can't fill as written."""
    return [part for part in design.domains if not design.has_as_written(part)]
