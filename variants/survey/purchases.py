"""What to buy: the purchases that make most of a book tieable, each worked out by solving again.

A book, a box and the wishes of a survey come in; ranked purchases come out, alone and in sets. What
may be bought is what the dressings of the book write, each in its colour and hooks in their size,
and a lawful stand-in for what may not be had freely.

Notes
-----
*One purchase is exact*: each is tried with every dressing of the book, by solving the dressing
again with it; `shop` says when that may be spared.

*Sets are tried by a stated method*: all sets of the best single purchases (`AMONG_BEST` of them),
and for each dressing the things that its own closest variant changes, or that it has nothing for,
when they are few enough. Each set that is tried is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb

from variants.model import Box, Dressing
from variants.rulebook import Rulebook
from variants.survey.offers import Offer, offers_for, offers_of
from variants.survey.shop import Case, Gain, Shop
from variants.survey.survey import Wishes

__all__ = ["Gain", "Offer", "Purchases", "find_purchases"]

#: Sets are made of so many of the best single purchases.
AMONG_BEST = 8
#: Hears how many of how many steps are done.
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Purchases:
    """The answer.

    Attributes
    ----------
    single : tuple of Gain
        Every purchase that gains anything, best first.
    sets : tuple of Gain
        Sets that gain more than their purchases do one by one, best first; with a budget, also
        the best of all sets that were tried.
    unpriced : int
        Purchases left out because a budget was set and no price of them is known.
    """

    single: tuple[Gain, ...]
    sets: tuple[Gain, ...]
    unpriced: int = 0


def find_purchases(
    dressings: Sequence[Dressing],
    box: Box,
    rulebook: Rulebook,
    wishes: Wishes | None = None,
    *,
    at_most: int | None = None,
    largest_set: int = 1,
    prices: Mapping[tuple[str, ...], float] | None = None,
    budget: float | None = None,
    progress: Progress | None = None,
) -> Purchases:
    """Return what to buy.

    Parameters
    ----------
    dressings, box, rulebook, wishes
        As for a survey.
    at_most : int, optional
        Thousandths: what departs more counts as not tieable.
    largest_set : int
        1 for single purchases alone; 2 or 3 for sets as well.
    prices : mapping, optional
        By `Offer.key`.
    budget : float, optional
        Nothing dearer in all is proposed.
    progress : callable, optional
    """
    wishes = wishes or Wishes()
    offers = offers_of(dressings, rulebook, wishes, prices or {})
    unpriced = 0
    if budget is not None:
        unpriced = sum(one.price is None for one in offers)
        offers = [one for one in offers if one.price is not None and one.price <= budget]
    most_sets = sum(comb(AMONG_BEST, size) for size in range(2, largest_set + 1))
    steps = _Steps(progress, 2 * len(dressings) + len(offers) + most_sets)
    shop = Shop(box, rulebook, wishes, at_most)
    for dressing in dressings:
        shop.look_at(dressing)
        steps.done()
    single: list[Gain] = []
    for offer in offers:
        gain = shop.gain((offer,))
        if gain is not None:
            single.append(gain)
        steps.done()
    single.sort(key=lambda one: one.rank)
    sets = _sets(shop, single, offers, largest_set, budget, steps)
    return Purchases(tuple(single), tuple(sets), unpriced)


class _Steps:
    """Counts the steps of the work for whoever listens."""

    def __init__(self, progress: Progress | None, whole: int) -> None:
        self._progress, self._whole, self._count = progress, whole, 0

    def done(self) -> None:
        self._count += 1
        if self._progress is not None:
            self._progress(self._count, self._whole)


def _sets(
    shop: Shop,
    single: Sequence[Gain],
    offers: Sequence[Offer],
    largest: int,
    budget: float | None,
    steps: _Steps,
) -> list[Gain]:
    """Return the sets worth proposing, best first."""
    alone = {one.offers[0].key: one for one in single}
    tried: list[Gain] = []
    for several in _sets_to_try(shop, single, offers, largest):
        steps.done()
        if budget is not None and sum(one.price or 0.0 for one in several) > budget:
            continue
        gain = shop.gain(several)
        if gain is not None:
            tried.append(gain)
    tried.sort(key=lambda one: (one.rank[:3], len(one.offers), one.rank[3:]))
    return [
        one
        for place, one in enumerate(tried)
        if _works_together(one, alone) or (budget is not None and place == 0)
    ]


def _sets_to_try(
    shop: Shop, single: Sequence[Gain], offers: Sequence[Offer], largest: int
) -> list[tuple[Offer, ...]]:
    best = [one.offers[0] for one in single[:AMONG_BEST]]
    chosen: dict[tuple[tuple[str, ...], ...], tuple[Offer, ...]] = {}
    for size in range(2, largest + 1):
        for several in combinations(best, size):
            ordered = tuple(sorted(several, key=lambda one: one.key))
            chosen[tuple(one.key for one in ordered)] = ordered
    for case in shop.cases:
        own = _wanting(case, shop, offers)
        if 2 <= len(own) <= largest:
            chosen[tuple(one.key for one in own)] = own
    return list(chosen.values())


def _wanting(case: Case, shop: Shop, offers: Sequence[Offer]) -> tuple[Offer, ...]:
    """Return the purchases that a dressing's changed or empty parts ask for."""
    known = {one.key: one for one in offers}
    wanted = [
        known[offer.key]
        for name in case.changed
        if (part := case.dressing.part(name)) is not None
        for offer in offers_for(case.dressing, part, shop.rulebook, shop.wishes)
        if offer.key in known and (offer.size is None or offer.size == case.dressing.size)
    ]
    return tuple(sorted({one.key: one for one in wanted}.values(), key=lambda one: one.key))


def _works_together(gain: Gain, alone: Mapping[tuple[str, ...], Gain]) -> bool:
    """Tell whether a set does more than its purchases do one by one."""
    parts = [alone[one.key] for one in gain.offers if one.key in alone]
    opened = {name for one in parts for name in one.opened}
    written = {name for one in parts for name in one.as_written}
    if set(gain.opened) - opened or set(gain.as_written) - written:
        return True
    return not opened and gain.saved > sum(one.saved for one in parts)
