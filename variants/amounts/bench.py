"""At the bench: in which order the flies of a batch are tied, and what they take of each item.

The flies come in with what one of each uses; their order and the amounts to write off come out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from variants.amounts.cost import Cost
from variants.amounts.uses import Use
from variants.model import Variant
from variants.problem import DesignProblem
from variants.reading.batches import Wanted

#: Up to so many kinds of fly the bench order is the best of all; beyond, they are sorted.
_MOST_ORDERED = 12
#: What a change costs at the bench, told in one number (common practice: a spool is changed
#: sooner than the whole manner of tying).
_CHANGES = {"thread": 3, "size": 2, "style": 2, "dressing": 1}
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Tied:
    """So many flies of one variant.

    Attributes
    ----------
    wanted : Wanted
    design : DesignProblem
    variant : Variant
    uses : tuple of Use
        Of one fly.
    count : int
    cost : Cost
        Of one fly.
    """

    wanted: Wanted
    design: DesignProblem
    variant: Variant
    uses: tuple[Use, ...]
    count: int
    cost: Cost


def bench_order(tied: Sequence[Tied]) -> list[Tied]:
    """Return the flies in the order that changes thread, hook size and style least.

    Notes
    -----
    Held and Karp's dynamic programme over sets of flies, exact up to a dozen kinds; beyond, they
    are sorted by thread, size and style.
    """
    fixed = sorted(tied, key=_bench_key)
    if len(fixed) < 3 or len(fixed) > _MOST_ORDERED:
        return fixed
    count = len(fixed)
    change = [[_change(one, other) for other in fixed] for one in fixed]
    best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {
        (1 << last, last): (0, (last,)) for last in range(count)
    }
    for done in range(1, 1 << count):
        for last in range(count):
            if (done, last) not in best:
                continue
            cost, path = best[done, last]
            for following in range(count):
                if done >> following & 1:
                    continue
                key = done | 1 << following, following
                further = cost + change[last][following], (*path, following)
                if key not in best or further < best[key]:
                    best[key] = further
    whole = (1 << count) - 1
    _, path = min(best[whole, last] for last in range(count))
    return [fixed[place] for place in path]


def _bench_key(one: Tied) -> tuple[str, int, str, str, int]:
    return (*_bench(one), one.variant.rank)


def _bench(one: Tied) -> tuple[str, int, str, str]:
    thread = one.variant.chosen.get("thread")
    base = one.wanted.dressing
    return thread.identity if thread else "", one.wanted.size, base.style, base.name


def _change(one: Tied, other: Tied) -> int:
    weights = tuple(_CHANGES.values())
    return sum(
        weight
        for weight, here, there in zip(weights, _bench(one), _bench(other), strict=True)
        if here != there
    )


def taken_by_item(tied: Sequence[Tied]) -> dict[str, float]:
    """Return how much the flies take of each counted item, in the item's own unit.

    Notes
    -----
    Of alike items the emptiest is used up first. Whole flies are taken from one item as long as
    that goes; what no item holds whole is pieced together from what is left. A feather that is
    begun counts as used up.
    """
    whole = {
        item.id: item.amount is not None and item.amount.check("[piece]")
        for one in tied
        for use in one.uses
        for item in use.items
    }
    left: dict[str, float] = {}
    taken: dict[str, float] = {}
    for one in tied:
        for use in one.uses:
            if not use.items or any(item.amount is None for item in use.items):
                continue
            _take(use, one.count, left, taken)
    return {
        item: float(ceil(amount - _SLACK)) if whole[item] else amount
        for item, amount in taken.items()
        if amount > _SLACK
    }


def _take(use: Use, flies: int, left: dict[str, float], taken: dict[str, float]) -> None:
    each = {item.id: use.of(item) for item in use.items}
    for item in use.items:
        if item.amount is not None:
            left.setdefault(item.id, float(item.amount.magnitude))
    emptiest = sorted(use.items, key=lambda item: (left[item.id], item.id))
    for item in emptiest:
        one = each[item.id]
        if one:
            count = min(flies, floor(left[item.id] / one + _SLACK))
            left[item.id] -= count * one
            taken[item.id] = taken.get(item.id, 0.0) + count * one
            flies -= count
    wanting = float(flies)
    for item in emptiest:
        one = each[item.id]
        if one and wanting > 0:
            share = min(wanting, max(0.0, left[item.id]) / one)
            left[item.id] -= share * one
            taken[item.id] = taken.get(item.id, 0.0) + share * one
            wanting -= share
