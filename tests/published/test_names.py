"""Names in the 1940 handbook: no keys, and often one substitution from another."""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations

import pytest

from tests.corpus.measure import readings
from variants.explain.derivation.kin import Make, ingredients_of, make_of

GREGG = pytest.mark.source("gregg-1940", "table of dressings, p. 69 and after")


def makes() -> list[tuple[str, Make]]:
    return [
        (reading.name, make_of(ingredients_of(reading.dressing)))
        for reading in readings()
        if reading.dressing is not None
    ]


@GREGG
def test_one_name_may_have_several_dressings() -> None:
    by_name: dict[str, set[Make]] = defaultdict(set)
    for name, make in makes():
        by_name[name].add(make)
    several = {name: len(made) for name, made in by_name.items() if len(made) > 1}
    assert several == {"Blue Quill": 2, "Great Dun": 3}


@GREGG
def test_many_dressings_have_a_neighbour_that_differs_in_one_part() -> None:
    with_neighbour: set[int] = set()
    whole = [dict(make) for _name, make in makes()]
    for one, other in combinations(range(len(whole)), 2):
        here, there = whole[one], whole[other]
        differing = sum(here.get(part) != there.get(part) for part in {*here, *there})
        if differing == 1:
            with_neighbour |= {one, other}
    assert len(whole) == 216
    assert len(with_neighbour) / len(whole) == pytest.approx(1 / 5, abs=0.03)
