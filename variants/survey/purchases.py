"""What to buy: the purchases that make most of a book tieable, each worked out by solving again.

A book, a box and the wishes of a survey come in; ranked purchases come out, alone and in sets. What
may be bought is what the dressings of the book write, each in its colour and hooks in their size,
and a lawful stand-in for what may not be had freely.

Notes
-----
*One purchase is exact*: each is tried with every dressing of the book, by solving the dressing
again with it; `case` says when that may be spared.

*Sets are tried by a stated method*: all sets of the best single purchases (`AMONG_BEST` of them),
and for each dressing the things that its own closest variant changes, or that it has nothing for,
when they are few enough. Each set that is tried is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from variants.model import Box, Dressing
from variants.problem import stock_of
from variants.reading.prices import Prices
from variants.rulebook import Rulebook
from variants.survey.case import Case
from variants.survey.gains import Gain, Prospect, gain_of
from variants.survey.offers import Offer, offers_for, offers_of
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
    prices: Prices | None = None,
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
    prices : Prices, optional
    budget : float, optional
        Nothing dearer in all is proposed.
    progress : callable, optional
    """
    wishes = wishes or Wishes()
    offers = offers_of(dressings, rulebook, wishes, prices or Prices({}))
    unpriced = 0
    if budget is not None:
        unpriced = sum(one.price is None for one in offers)
        offers = [one for one in offers if one.price is not None and one.price <= budget]
    rounds = 1 if largest_set == 1 else 2
    steps = _Steps(progress, rounds * len(dressings))
    desk = _Desk(dressings, box, rulebook, wishes)
    prospects = desk.prospects([(one,) for one in offers], steps)
    single = _gains([(one,) for one in offers], prospects, at_most)
    single.sort(key=lambda one: one.rank)
    sets: list[Gain] = []
    if largest_set > 1:
        several = [
            one
            for one in _sets_to_try(desk, prospects, single, offers, largest_set)
            if budget is None or sum(offer.price or 0.0 for offer in one) <= budget
        ]
        tried = _gains(several, desk.prospects(several, steps), at_most)
        sets = _worth_proposing(tried, single, budget)
    return Purchases(tuple(single), tuple(sets), unpriced)


class _Steps:
    """Counts the steps of the work for whoever listens."""

    def __init__(self, progress: Progress | None, whole: int) -> None:
        self._progress, self._whole, self._count = progress, whole, 0

    def done(self) -> None:
        self._count += 1
        if self._progress is not None:
            self._progress(self._count, self._whole)


class _Desk:
    """A book and a box, to be tried with purchases; one dressing lies on it at a time."""

    def __init__(
        self, dressings: Sequence[Dressing], box: Box, rulebook: Rulebook, wishes: Wishes
    ) -> None:
        self.dressings, self.rulebook, self.wishes = dressings, rulebook, wishes
        self._box, self._stock = box, stock_of(box, wishes.missing)

    def prospects(self, purchases: Sequence[tuple[Offer, ...]], steps: _Steps) -> list[Prospect]:
        """Return how every dressing stands with each of some purchases."""
        found = []
        for dressing in self.dressings:
            found.append(self._prospect(dressing, purchases))
            steps.done()
        return found

    def _prospect(self, dressing: Dressing, purchases: Sequence[tuple[Offer, ...]]) -> Prospect:
        request = self.wishes.request(dressing, self._box)
        case = Case(request, self.rulebook, self._stock)
        bought = {
            tuple(one.key for one in offers): closest
            for offers in purchases
            if (closest := case.with_bought(offers)) is not None
        }
        return Prospect(dressing.name, case.departure, case.changed, bought)


def _gains(
    purchases: Iterable[tuple[Offer, ...]], prospects: Sequence[Prospect], at_most: int | None
) -> list[Gain]:
    gains = [gain_of(offers, prospects, at_most) for offers in purchases]
    return [one for one in gains if one is not None]


def _worth_proposing(tried: list[Gain], single: Sequence[Gain], budget: float | None) -> list[Gain]:
    """Return the sets worth proposing, best first."""
    alone = {one.offers[0].key: one for one in single}
    tried.sort(key=lambda one: (one.rank[:3], len(one.offers), one.rank[3:]))
    return [
        one
        for place, one in enumerate(tried)
        if _works_together(one, alone) or (budget is not None and place == 0)
    ]


def _sets_to_try(
    desk: _Desk,
    prospects: Sequence[Prospect],
    single: Sequence[Gain],
    offers: Sequence[Offer],
    largest: int,
) -> list[tuple[Offer, ...]]:
    best = [one.offers[0] for one in single[:AMONG_BEST]]
    chosen: dict[tuple[tuple[str, ...], ...], tuple[Offer, ...]] = {}
    for size in range(2, largest + 1):
        for several in combinations(best, size):
            ordered = tuple(sorted(several, key=lambda one: one.key))
            chosen[tuple(one.key for one in ordered)] = ordered
    for dressing, prospect in zip(desk.dressings, prospects, strict=True):
        own = _wanting(dressing, prospect, desk, offers)
        if 2 <= len(own) <= largest:
            chosen[tuple(one.key for one in own)] = own
    return list(chosen.values())


def _wanting(
    dressing: Dressing, prospect: Prospect, desk: _Desk, offers: Sequence[Offer]
) -> tuple[Offer, ...]:
    """Return the purchases that a dressing's changed or empty parts ask for."""
    known = {one.key: one for one in offers}
    wanted = [
        known[offer.key]
        for name in prospect.changed
        if (part := dressing.part(name)) is not None
        for offer in offers_for(dressing, part, desk.rulebook, desk.wishes)
        if offer.key in known and (offer.size is None or offer.size == dressing.size)
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
