"""What to ask for in the shop: against boxes that hold just that, and boxes that hold it wrong."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import inf

import pytest

from tests.real import EXAMPLES, example, example_box, rulebook
from variants.design import DesignProblem, build_problem
from variants.design.search import search
from variants.geometry import fly_geometry, load_layout, uses_of
from variants.model import Box, Dressing, Item, Variant
from variants.rulebook import LENGTH
from variants.survey import Wishes
from variants.survey.gains import Gain
from variants.survey.purchases import find_purchases
from variants.survey.wants import Want, find_wants

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


@cache
def book() -> tuple[Dressing, ...]:
    return tuple(example(name) for name in NAMES)


@cache
def gains() -> tuple[Gain, ...]:
    found = find_purchases(book(), example_box(), rulebook(), largest_set=2)
    return (*found.single, *found.sets)


def wants(gain: Gain, flies: int = 1) -> list[Want]:
    return find_wants(gain, book(), rulebook(), load_layout(()), Wishes(), flies)


def solved(dressing: Dressing, *items: Item) -> tuple[DesignProblem, Variant]:
    box = Box((*example_box().items, *items))
    design = build_problem(Wishes().request(dressing, box), rulebook())
    return design, search(design, 1).variants[0]


def bought(want: Want, length_mm: float | None = None) -> Item:
    return Item(
        "new",
        want.offer.ingredient.material,
        want.offer.ingredient.colour,
        sizes=None if want.offer.size is None else (want.offer.size,),
        length_mm=None if length_mm is None else (length_mm, length_mm),
    )


def measured() -> list[tuple[Gain, Want]]:
    return [
        (gain, want)
        for gain in gains()
        for want in wants(gain)
        if len(gain.offers) == len(gain.nearer) == 1
        and any(attribute == LENGTH for _, attribute in want.measures)
    ]


def test_some_purchases_of_the_valley_have_to_measure_something() -> None:
    assert len(measured()) >= 2


def test_stuff_of_the_right_length_brings_the_dressing_as_near_as_told() -> None:
    for gain, want in measured():
        (spread,) = want.measures.values()
        ((place, closest),) = gain.nearer
        _, variant = solved(book()[place], bought(want, spread.least))
        assert variant.departure == closest.departure


@pytest.mark.parametrize("wrong", [0.97, 1.03])
def test_stuff_beyond_what_will_do_is_not_tied_in(wrong: float) -> None:
    for gain, want in measured():
        ((place, closest),) = gain.nearer
        (spread,) = want.measures.values()
        edge = spread.low if wrong < 1 else spread.high
        if edge == inf:
            continue  # it is cut to length
        _, variant = solved(book()[place], bought(want, edge * wrong))
        assert variant.departure > closest.departure


@pytest.mark.parametrize("flies", [1, 12])
def test_the_amount_is_what_a_fly_tied_with_it_uses(flies: int) -> None:
    seen = 0
    for gain in gains():
        if not len(gain.offers) == len(gain.nearer) == 1:
            continue
        (want,) = wants(gain, flies)
        ((place, closest),) = gain.nearer
        design, variant = solved(book()[place], bought(want))
        assert variant.departure == closest.departure
        geometry = fly_geometry(design, load_layout(()), variant)
        own = [
            use
            for use in uses_of(geometry, variant.chosen, load_layout(()))
            if use.items and use.items[0].id == "new"
        ]
        assert [use.part for use in own] == list(want.parts)
        (use,) = own
        told = next(one for one in (use.pieces, use.length_mm, use.mass_mg) if one is not None)
        assert want.flies == flies
        wanted = (want.pieces, want.length_mm, want.mass_mg)
        assert [one for one in wanted if one is not None] == [pytest.approx(flies * told)]
        seen += 1
    assert seen >= 3


def test_flies_of_several_sizes_ask_for_a_range() -> None:
    hackle = next(want for _, want in measured() if want.parts == ("hackle",))
    place = next(gain.nearer[0][0] for gain, want in measured() if want.offer == hackle.offer)
    dressing = book()[place]
    both = [
        replace(dressing, name=f"size {size}", size=size, sizes=(size,))
        for size in (dressing.size, dressing.size + 2)
    ]
    found = find_purchases(both, example_box(), rulebook())
    gain = next(one for one in found.single if one.offers[0].key == hackle.offer.key)
    (want,) = find_wants(gain, both, rulebook(), load_layout(()), Wishes())
    assert want.sizes == (dressing.size, dressing.size + 2)
    spread = want.measures["hackle", LENGTH]
    assert spread.least < spread.most
    assert want.flies == 2
