"""Pairs of purchases: the best of them against buying every two things and asking anew."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.real import rulebook
from tests.survey.test_purchases import bought, departures
from variants.model import Box, Dressing
from variants.reading.prices import Prices
from variants.survey import Wishes, pairs
from variants.survey.lower_bounds import NEVER
from variants.survey.offers import Offer, offers_of
from variants.survey.purchases import find_purchases

Rank = tuple[int, int, int]
Departures = list[int | None]


def rank(before: Departures, after: Departures) -> Rank:
    both = list(zip(before, after, strict=True))
    return (
        sum(old is None and new is not None for old, new in both),
        sum(old != 0 and new == 0 for old, new in both),
        sum(old - new for old, new in both if old is not None and new is not None),
    )


def works_together(before: Departures, alone: list[Departures], both: Departures) -> bool:
    """Tell whether two things do more than they do one by one, from departures alone."""
    for place, old in enumerate(before):
        singles = [one[place] for one in alone]
        if old is None and both[place] is not None and singles == [None, None]:
            return True
        if old != 0 and both[place] == 0 and 0 not in singles:
            return True
    return rank(before, both)[2] > sum(rank(before, one)[2] for one in alone)


def by_trying_all(
    book: list[Dressing], box: Box, offers: list[Offer], wishes: Wishes
) -> list[Rank]:
    """Return the ranks of all pairs that work together, best first."""
    before = departures(book, box, wishes)
    alone = {one.key: departures(book, bought(box, (one,)), wishes) for one in offers}
    found = []
    for first, second in combinations(offers, 2):
        both = departures(book, bought(box, (first, second)), wishes)
        if works_together(before, [alone[first.key], alone[second.key]], both):
            found.append(rank(before, both))
    return sorted(found, reverse=True)


def few_of(book: list[Dressing], parts: tuple[str, ...]) -> list[Dressing]:
    """Return a book of dressings of a few parts, so that all pairs can be tried."""
    return [
        replace(one, parts=tuple(part for part in one.parts if part.id in parts)) for one in book
    ]


@pytest.mark.parametrize("seed", [3, 4, 7, 8])
@pytest.mark.parametrize("limit", [None, 1])
def test_the_pairs_told_are_the_best_of_all_pairs(seed: int, limit: int | None) -> None:
    names = [f"fly {number}" for number in range(2)]
    book = [
        replace(random_dressing(rulebook(), 10 * seed + number, mixed=bool(seed % 2)), name=name)
        for number, name in enumerate(names)
    ]
    book = few_of(book, ("hook", "thread", "body", "wing", "hackle"))
    box = random_box(rulebook(), 30, seed)
    wishes = Wishes(max_changes=limit)
    offers = offers_of(book, rulebook(), wishes, Prices({}))
    expected = by_trying_all(book, box, offers, wishes)
    found = find_purchases(
        book, box, rulebook(), wishes, at_most=NEVER, largest_set=2, most_sets=100
    )
    assert found.are_pairs_proven
    told = [(len(one.opened), len(one.as_written), one.saved) for one in found.sets]
    assert told == expected


def test_what_is_not_proven_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pairs, "MOST_SOLVED", 1)
    book = [replace(random_dressing(rulebook(), 40 + one), name=f"fly {one}") for one in range(2)]
    found = find_purchases(
        book,
        random_box(rulebook(), 30, 4),
        rulebook(),
        Wishes(max_changes=1),
        at_most=NEVER,
        largest_set=2,
    )
    assert not found.are_pairs_proven
