"""A problem searched again says what a search of its own says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.breadth import seeds
from tests.real import rulebook
from variants.design import DesignProblem, Request, build_problem, filled_domain, stock_of
from variants.design.search import IncrementalSearch, search

SEEDS = range(8)


def design_of(seed: int) -> DesignProblem:
    limit = 6 if seed % 2 else None
    box = random_box(rulebook(), 80, seed)
    return build_problem(
        Request(random_dressing(rulebook(), seed), box, max_changes=limit), rulebook()
    )


def departure(design: DesignProblem) -> int | None:
    found = search(design, 1).variants
    return found[0].departure if found else None


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_parts_filled_otherwise_make_the_fly_that_a_new_search_finds(seed: int) -> None:
    design, other = design_of(seed), random_box(rulebook(), 40, 100 + seed)
    again, stock = IncrementalSearch(design), stock_of(other)
    for part in (*design.domains, *reversed(design.domains)):
        filled = {part: filled_domain(design, part, stock)}
        closest = again.find_closest(filled)
        found = departure(replace(design, domains={**design.domains, **filled}))
        assert (closest.departure if closest else None) == found


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_parts_left_out_of_account_take_their_rules_with_them(seed: int) -> None:
    design = design_of(seed)
    again = IncrementalSearch(design)
    for part in design.domains:
        rest = {name: domain for name, domain in design.domains.items() if name != part}
        rules = tuple(one for one in design.constraints if part not in one.parts)
        closest = again.find_closest(without={part})
        found = departure(replace(design, domains=rest, constraints=rules))
        assert (closest.departure if closest else None) == found


def test_of_nothing_nothing_departs() -> None:
    design = design_of(1)
    closest = IncrementalSearch(design).find_closest(without=set(design.domains))
    assert closest is not None
    assert (closest.departure, closest.chosen) == (0, {})


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_only_what_departs_less_than_the_limit_is_found(seed: int) -> None:
    design = design_of(seed)
    again, least = IncrementalSearch(design), departure(design)
    if least is None:
        assert again.find_closest(below=10_000) is None
        return
    assert again.find_closest(below=least) is None
    for below in (least + 1, least + 50, least + 5_000):
        closest = again.find_closest(below=below)
        assert closest is not None
        assert closest.departure == least
