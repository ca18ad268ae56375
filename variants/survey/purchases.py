"""What to buy: the purchases that make most of a book tieable, each worked out by solving again.

A book, a box and the wishes of a survey come in; ranked purchases come out, alone and in sets. What
may be bought is what the dressings of the book write, each in its colour and hooks in their size,
and a lawful stand-in for what may not be had freely.

Notes
-----
*One purchase is exact*: each is tried with every dressing of the book, by solving the dressing
again with it; `case` says when that may be spared.

*Pairs are exact*: of all pairs the best are found by branch and bound (`pairs`), unless that takes
more solving than its limit, which is then told.

*For a budget the best set of any size* is found by branch and bound as well (`basket`), up to a
limit of sets.

*Sets of three are tried by a stated method*: the best pairs with each of the best single purchases
(`AMONG_BEST` of both), and for each dressing the things that its own closest variant changes, or
that it has nothing for, when they are three. Each set that is tried is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from variants.design import stock_of
from variants.design.search import Closest
from variants.model import Box, Dressing
from variants.reading.prices import Prices
from variants.rulebook import Rulebook
from variants.survey.basket import Basket
from variants.survey.case import Case
from variants.survey.gains import Gain, Prospect, gain_from, gain_of
from variants.survey.offers import Offer, offers_for, offers_of
from variants.survey.pair_bounds import bound_pairs
from variants.survey.pairs import PairBounds, PairSearch, pairs_of
from variants.survey.survey import Wishes

__all__ = ["Gain", "Offer", "Purchases", "find_purchases"]

#: Sets of three are made of so many of the best pairs and single purchases.
AMONG_BEST = 8
#: So many pairs are looked for when nobody says how many are wanted.
USUAL_SETS = 8
#: So many dressings lie ready, as last solved.
_CASES = 48
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
        Sets that gain more than their purchases do one by one, best first.
    unpriced : int
        Purchases left out because a budget was set and no price of them is known.
    are_pairs_proven : bool
        Whether no better pair is missing before the last one that is told.
    basket : Gain or None
        With a budget, the set of any size that does most for it.
    is_basket_proven : bool
        Whether no better one is missing.
    budget : float or None
        What might be spent.
    largest_set : int
        So many purchases together were tried at most.
    """

    single: tuple[Gain, ...]
    sets: tuple[Gain, ...]
    unpriced: int = 0
    are_pairs_proven: bool = True
    basket: Gain | None = None
    is_basket_proven: bool = True
    budget: float | None = None
    largest_set: int = 1


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
    most_sets: int = USUAL_SETS,
    progress: Progress | None = None,
) -> Purchases:
    """Return what to buy.

    Parameters
    ----------
    dressings, box, rulebook, wishes
        As for a survey.
    at_most : int, optional
        Thousandths: what departs more counts as not tieable; by default what the conventions say.
    largest_set : int
        1 for single purchases alone; 2 or 3 for sets as well.
    prices : Prices, optional
    budget : float, optional
        Nothing dearer in all is proposed.
    most_sets : int
        So many sets are wanted.
    progress : callable, optional
    """
    wishes = wishes or Wishes()
    at_most = wishes.ceiling(rulebook) if at_most is None else at_most
    offers = offers_of(dressings, rulebook, wishes, prices or Prices({}))
    unpriced = 0
    if budget is not None:
        unpriced = sum(one.price is None for one in offers)
        offers = [one for one in offers if one.price is not None and one.price <= budget]
    steps = _Steps(progress, len(dressings) * largest_set)
    evaluator = _Evaluator(dressings, box, rulebook, wishes)
    prospects = evaluator.prospects([(one,) for one in offers], steps)
    single = _measure_gains([(one,) for one in offers], prospects, at_most)
    single.sort(key=lambda one: one.rank)
    answer = Purchases(tuple(single), (), unpriced, budget=budget, largest_set=largest_set)
    if budget is not None:
        basket = Basket(
            _sort_by_gain(offers, single),
            budget,
            lambda some: evaluator.gain(some, prospects, at_most),
        )
        answer = replace(answer, basket=basket.best, is_basket_proven=basket.is_proven)
    if largest_set == 1:
        return answer
    lower_bounds = evaluator.bound_pairs(offers, prospects, steps)
    bounded = PairSearch(prospects, lower_bounds, evaluator.with_bought, at_most)
    affordable = [one for one in pairs_of(lower_bounds, offers) if _is_within(one, budget)]
    sets = list(islice(bounded.best(affordable), max(most_sets, AMONG_BEST)))
    if largest_set > 2:
        threes = _choose_threes(evaluator, prospects, single, sets, offers)
        several = [one for one in threes if _is_within(one, budget)]
        tried = _measure_gains(several, evaluator.prospects(several, steps), at_most)
        alone = {one.offers[0].key: one for one in single}
        pairs = {frozenset(one.key for one in each.offers): each for each in sets}
        sets += [one for one in tried if _works_together(one, alone, pairs)]
        sets.sort(key=lambda one: (one.rank[:3], len(one.offers), one.rank[3:]))
    return replace(answer, sets=tuple(sets[:most_sets]), are_pairs_proven=bounded.is_proven)


def _sort_by_gain(offers: Sequence[Offer], single: Sequence[Gain]) -> list[Offer]:
    """Return the offers that gain most by themselves first."""
    ranks = {one.offers[0].key: place for place, one in enumerate(single)}
    return sorted(offers, key=lambda one: (ranks.get(one.key, len(ranks)), one.key))


def _is_within(offers: Iterable[Offer], budget: float | None) -> bool:
    return budget is None or sum(one.price or 0.0 for one in offers) <= budget


class _Steps:
    """Counts the steps of the work for whoever listens."""

    def __init__(self, progress: Progress | None, whole: int) -> None:
        self._progress, self._whole, self._count = progress, whole, 0

    def done(self) -> None:
        self._count += 1
        if self._progress is not None:
            self._progress(self._count, self._whole)


class _Evaluator:
    """A book and a box, to be tried with purchases; a few dressings lie on it at a time."""

    def __init__(
        self, dressings: Sequence[Dressing], box: Box, rulebook: Rulebook, wishes: Wishes
    ) -> None:
        self.dressings, self.rulebook, self.wishes = dressings, rulebook, wishes
        self._box, self._stock = box, stock_of(box, wishes.missing)
        self._cases: dict[int, Case] = {}

    def _case(self, place: int) -> Case:
        """Return the case of a dressing; the ones looked at longest ago are cleared away."""
        case = self._cases.pop(place, None)
        if case is None:
            request = self.wishes.request(self.dressings[place], self._box)
            case = Case(request, self.rulebook, self._stock)
            if len(self._cases) == _CASES:
                del self._cases[next(iter(self._cases))]
        self._cases[place] = case
        return case

    def with_bought(self, place: int, offers: Sequence[Offer]) -> Closest | None:
        """Return the closest variant of a dressing with purchases; None when it is no nearer."""
        return self._case(place).with_bought(offers)

    def gain(
        self, offers: tuple[Offer, ...], prospects: Sequence[Prospect], at_most: int | None
    ) -> Gain | None:
        """Return what a set of purchases does for the book."""
        found = {
            place: closest
            for place in range(len(self.dressings))
            if (closest := self.with_bought(place, offers)) is not None
        }
        return gain_from(offers, found, prospects, at_most)

    def prospects(self, purchases: Sequence[tuple[Offer, ...]], steps: _Steps) -> list[Prospect]:
        """Return how every dressing stands with each of some purchases."""
        found = []
        for place, dressing in enumerate(self.dressings):
            case = self._case(place)
            bought = {
                tuple(one.key for one in offers): closest
                for offers in purchases
                if (closest := case.with_bought(offers)) is not None
            }
            found.append(Prospect(dressing.name, case.departure, case.changed, bought))
            steps.done()
        return found

    def bound_pairs(
        self, offers: Sequence[Offer], prospects: Sequence[Prospect], steps: _Steps
    ) -> list[PairBounds]:
        """Return, for every dressing, what it can't depart less than with pairs of purchases."""
        found: list[PairBounds] = []
        for place, prospect in enumerate(prospects):
            found.append(bound_pairs(self._case(place), offers, prospect.with_bought))
            steps.done()
        return found


def _measure_gains(
    purchases: Iterable[tuple[Offer, ...]], prospects: Sequence[Prospect], at_most: int | None
) -> list[Gain]:
    gains = [gain_of(offers, prospects, at_most) for offers in purchases]
    return [one for one in gains if one is not None]


def _choose_threes(
    evaluator: _Evaluator,
    prospects: Sequence[Prospect],
    single: Sequence[Gain],
    pairs: Sequence[Gain],
    offers: Sequence[Offer],
) -> list[tuple[Offer, ...]]:
    """Return the sets of three that are tried."""
    chosen = [
        (*pair.offers, one.offers[0])
        for pair in pairs[:AMONG_BEST]
        for one in single[:AMONG_BEST]
        if one.offers[0] not in pair.offers
    ]
    for dressing, prospect in zip(evaluator.dressings, prospects, strict=True):
        own = _find_wanted(dressing, prospect, evaluator, offers)
        if len(own) == 3:
            chosen.append(own)
    ordered = [tuple(sorted(several, key=lambda one: one.key)) for several in chosen]
    return list({tuple(one.key for one in several): several for several in ordered}.values())


def _find_wanted(
    dressing: Dressing, prospect: Prospect, evaluator: _Evaluator, offers: Sequence[Offer]
) -> tuple[Offer, ...]:
    """Return the purchases that a dressing's changed or empty parts ask for."""
    known = {one.key: one for one in offers}
    wanted = [
        known[offer.key]
        for name in prospect.changed
        if (part := dressing.part(name)) is not None
        for offer in offers_for(dressing, part, evaluator.rulebook, evaluator.wishes)
        if offer.key in known and (offer.size is None or offer.size == dressing.size)
    ]
    return tuple(sorted({one.key: one for one in wanted}.values(), key=lambda one: one.key))


def _works_together(
    gain: Gain,
    alone: Mapping[tuple[str, ...], Gain],
    pairs: Mapping[frozenset[tuple[str, ...]], Gain],
) -> bool:
    """Tell whether a set of three does more than its purchases do one by one, or two and one."""
    singles = {one.key: alone.get(one.key) for one in gain.offers}
    ways: list[list[Gain]] = [[one for one in singles.values() if one]]
    for key, one in singles.items():
        pair = pairs.get(frozenset(singles.keys() - {key}))
        if pair is not None:
            ways.append([pair, one] if one else [pair])
    return all(_does_more(gain, way) for way in ways)


def _does_more(gain: Gain, others: Sequence[Gain]) -> bool:
    opened = {name for one in others for name in one.opened}
    written = {name for one in others for name in one.as_written}
    if set(gain.opened) - opened or set(gain.as_written) - written:
        return True
    return gain.saved > sum(one.saved for one in others)
