"""What to buy: against buying each thing in turn and asking for every dressing anew."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.breadth import most_are_slow
from tests.real import EXAMPLES, example, example_box, rulebook
from variants.model import Box, Dressing, Item
from variants.reading.prices import read_prices
from variants.survey import Wishes, survey
from variants.survey.purchases import Gain, Offer, find_purchases

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


def bought(box: Box, offers: tuple[Offer, ...]) -> Box:
    items = tuple(
        Item(
            f"new {number}",
            one.ingredient.material,
            one.ingredient.colour,
            sizes=None if one.size is None else (one.size,),
        )
        for number, one in enumerate(offers)
    )
    return replace(box, items=(*box.items, *items))


def departures(book: list[Dressing], box: Box, wishes: Wishes) -> list[int | None]:
    return [one.departure for one in survey(book, [("", box)], rulebook(), wishes).outlooks]


def by_asking_anew(
    book: list[Dressing], box: Box, wishes: Wishes, gain: Gain
) -> tuple[tuple[str, ...], tuple[str, ...], int]:
    before = departures(book, box, wishes)
    after = departures(book, bought(box, gain.offers), wishes)
    pairs = list(zip(book, before, after, strict=True))
    far = wishes.ceiling(rulebook())
    return (
        tuple(
            one.name
            for one, old, new in pairs
            if (old is None or old > far) and new is not None and new <= far
        ),
        tuple(one.name for one, old, new in pairs if new == 0 and old != 0),
        sum(old - new for _, old, new in pairs if old is not None and new is not None),
    )


@pytest.mark.parametrize(
    ("seed", "flies", "max_changes"),
    most_are_slow([(6, 2, 7), (4, 3, None), (2, 3, None), (6, 3, None)], 2),
)
def test_gains_are_those_of_buying_and_asking_anew(
    seed: int, flies: int, max_changes: int | None
) -> None:
    book = [
        replace(random_dressing(rulebook(), 10 * seed + number), name=f"fly {number}")
        for number in range(flies)
    ]
    box = random_box(rulebook(), 60, seed)
    wishes = Wishes(max_changes=max_changes)
    found = find_purchases(book, box, rulebook(), wishes, largest_set=2)
    assert found.single or found.sets
    for gain in (*found.single[:12], *found.single[-4:], *found.sets[:4]):
        expected = by_asking_anew(book, box, wishes, gain)
        assert (gain.opened, gain.as_written, gain.saved) == expected


def test_what_gains_nothing_is_not_proposed_and_nothing_that_gains_is_left_out() -> None:
    book = [example(name) for name in NAMES]
    box = example_box()
    found = find_purchases(book, box, rulebook())
    proposed = {gain.offers[0].key for gain in found.single}
    offers = {
        ingredient.key: Offer(ingredient)
        for dressing in book
        for part in dressing.parts
        for ingredient in part.ingredients
        if part.id != "hook" and not ingredient.material.restriction
    }
    before = departures(book, box, Wishes())
    for offer in offers.values():
        after = departures(book, bought(box, (offer,)), Wishes())
        assert (before != after) == (offer.key in proposed)


def test_nothing_that_may_not_be_had_freely_is_proposed() -> None:
    found = find_purchases([example(name) for name in NAMES], example_box(), rulebook())
    assert found.single
    for gain in found.single:
        assert all(not one.ingredient.material.restriction for one in gain.offers)


def test_a_budget_is_kept_and_unknown_prices_are_counted() -> None:
    prices = read_prices(EXAMPLES / "prices.csv", rulebook().trade)
    book = [example(name) for name in NAMES]
    found = find_purchases(
        book, example_box(), rulebook(), largest_set=3, prices=prices, budget=5.0
    )
    assert found.unpriced > 0
    assert found.single
    for gain in (*found.single, *found.sets):
        assert gain.price is not None
        assert gain.price <= 5.0
