"""The best set for a budget, against buying every set that costs no more and asking anew."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.real import rulebook
from tests.survey.test_pairs import Rank, few_of, rank
from tests.survey.test_purchases import bought, departures
from variants.model import Box, Dressing
from variants.reading.prices import Price, Prices
from variants.survey import Wishes, basket
from variants.survey.lower_bounds import NEVER
from variants.survey.offers import Offer, offers_of
from variants.survey.purchases import find_purchases

PARTS = ("hook", "thread", "body", "wing", "hackle")


def book_of(seed: int) -> list[Dressing]:
    names = ("one", "other")
    book = [
        replace(random_dressing(rulebook(), 10 * seed + number), name=name)
        for number, name in enumerate(names)
    ]
    return few_of(book, PARTS)


def priced(offers: list[Offer]) -> Prices:
    """Return prices, 1 to 7, of the first seven things."""
    return Prices(
        {
            (
                one.ingredient.material.id,
                one.ingredient.colour.id if one.ingredient.colour else "",
                str(one.size or ""),
            ): Price(float(number))
            for number, one in enumerate(offers[:7], start=1)
        }
    )


def by_buying_every_set(
    book: list[Dressing], box: Box, offers: list[Offer], budget: float, wishes: Wishes
) -> Rank:
    before = departures(book, box, wishes)
    best = (0, 0, 0)
    for size in range(1, len(offers) + 1):
        for several in combinations(offers, size):
            if sum(one.price or 0.0 for one in several) <= budget:
                after = departures(book, bought(box, several), wishes)
                best = max(best, rank(before, after))
    return best


@pytest.mark.parametrize("seed", [3, 4, 8])
@pytest.mark.parametrize("budget", [5.0, 11.0])
def test_no_set_does_more_for_the_money(seed: int, budget: float) -> None:
    book, box = book_of(seed), random_box(rulebook(), 30, seed)
    wishes = Wishes(max_changes=1 if seed % 2 else None)
    prices = priced(offers_of(book, rulebook(), wishes, Prices({})))
    offers = [one for one in offers_of(book, rulebook(), wishes, prices) if one.price]
    found = find_purchases(
        book, box, rulebook(), wishes, at_most=NEVER, prices=prices, budget=budget
    )
    expected = by_buying_every_set(book, box, offers, budget, wishes)
    assert found.is_basket_proven
    best = found.basket
    told = (len(best.opened), len(best.as_written), best.saved) if best else (0, 0, 0)
    assert told == expected
    if best is not None:
        assert best.price is not None
        assert best.price <= budget
        for one in best.offers:
            rest = tuple(other for other in best.offers if other != one)
            before, after = (departures(book, bought(box, some), wishes) for some in ((), rest))
            assert rank(before, after) < told


def test_what_is_not_proven_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(basket, "MOST_SETS", 1)
    book, box = book_of(4), random_box(rulebook(), 30, 4)
    prices = priced(offers_of(book, rulebook(), Wishes(), Prices({})))
    found = find_purchases(book, box, rulebook(), at_most=NEVER, prices=prices, budget=6.0)
    assert not found.is_basket_proven
