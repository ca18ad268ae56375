"""All minimal conflicts and removals, against trying every subset; repairs that truly repair."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.benchmarks.generator import random_box, random_dressing
from tests.real import box, example, example_box, fly, rulebook
from variants.design import (
    ChangesConstraint,
    DesignProblem,
    FlyConstraint,
    Request,
    RuleConstraint,
    build_problem,
)
from variants.design.search import search
from variants.explain import find_all_conflicts, find_repairs, nearest_miss
from variants.explain.all_conflicts import minimal_hitting_sets, minimal_removals
from variants.explain.repair import Effort
from variants.model import Candidate, Dressing

CASES = 200


def small(seed: int) -> DesignProblem:
    """A random problem cut down to six parts, two candidates each, the strictest rules, a limit."""
    draw = random.Random(seed)
    request = Request(random_dressing(rulebook(), seed), random_box(rulebook(), 90, seed))
    design = build_problem(request, rulebook())
    domains = {
        part: draw.sample(every, min(2, len(every)))
        for part, domain in design.domains.items()
        if (every := list(domain)[:40])
    }
    parts = sorted(domains, key=lambda part: (part != "hook", draw.random()))[:6]
    domains = {part: domains[part] for part in design.domains if part in parts}
    hard = [one for one in design.constraints if one.is_hard and set(one.parts) <= set(domains)]
    strict = sorted(hard, key=lambda rule: (-_breaking(rule, domains), draw.random()))
    limit = ChangesConstraint(tuple(domains), draw.choice((2, 4)))
    return replace(design, domains=domains, constraints=(*strict[:6], limit))


def _breaking(rule: FlyConstraint, domains: Mapping[str, Sequence[Candidate]]) -> float:
    """Return the share of choices that a rule forbids."""
    chosen = list(product(*(domains[part] for part in rule.parts)))
    return sum(not rule.allows(one) for one in chosen) / len(chosen)


def by_every_subset(design: DesignProblem) -> tuple[set[frozenset[int]], set[frozenset[int]]]:
    """Minimal conflicts and minimal removals by trying every fly and every subset."""
    parts, hard = list(design.domains), design.constraints
    broken = set()
    for chosen in product(*design.domains.values()):
        one = dict(zip(parts, chosen, strict=True))
        broken.add(
            frozenset(
                number
                for number, rule in enumerate(hard)
                if not rule.allows([one[part] for part in rule.parts])
            )
        )
    numbers = range(len(hard))
    subsets = [frozenset(s) for k in range(len(hard) + 1) for s in combinations(numbers, k)]

    def possible(kept: frozenset[int]) -> bool:
        return any(not bad & kept for bad in broken)

    conflicts = {one for one in subsets if not possible(one)}
    removals = {one for one in subsets if possible(frozenset(numbers) - one)}
    return _smallest(conflicts), _smallest(removals)


def _smallest(sets: set[frozenset[int]]) -> set[frozenset[int]]:
    return {one for one in sets if not any(other < one for other in sets)}


def test_conflicts_and_removals_are_those_that_trying_every_subset_finds() -> None:
    blocked = 0
    for seed in range(CASES):
        design = small(seed)
        numbers = {id(one): number for number, one in enumerate(design.constraints)}
        conflicts, removals = by_every_subset(design)
        found = find_all_conflicts(design)
        assert found.is_complete
        assert {frozenset(numbers[id(one)] for one in c) for c in found.conflicts} == conflicts
        assert {frozenset(numbers[id(one)] for one in r) for r in found.removals} == removals
        blocked += bool(conflicts)
    assert blocked > CASES / 10


@given(st.lists(st.frozensets(st.integers(0, 6), max_size=4), max_size=6))
def test_hitting_sets_of_conflicts_are_the_removals(sets: list[frozenset[int]]) -> None:
    def feasible(kept: Iterable[int]) -> bool:
        return not any(one <= set(kept) for one in sets)

    removals, is_complete = minimal_removals(7, feasible)
    assert is_complete
    if frozenset() in sets:
        assert removals == []
        return
    hitting = [
        frozenset(one)
        for size in range(8)
        for one in combinations(range(7), size)
        if all(set(one) & other for other in sets)
    ]
    assert set(removals) == _smallest(set(hitting))
    assert set(minimal_hitting_sets(removals)) == (_smallest(set(sets)) if sets else set())


def blocked(dressing: Dressing, stock: object, **wishes: object) -> DesignProblem:
    design = build_problem(Request(dressing, stock, **wishes), rulebook())  # type: ignore[arg-type]
    assert not search(design, 1).variants
    return design


@pytest.mark.parametrize(
    ("wishes", "efforts"),
    [
        ({"sizes": (24,)}, {Effort.SIZE, Effort.PURCHASE}),
        ({"keep": frozenset({"hackle"}), "missing": frozenset({"hackle"})}, {Effort.PART}),
    ],
)
def test_repairs_are_tried_and_in_order_of_effort(
    wishes: dict[str, object], efforts: set[Effort]
) -> None:
    design = blocked(example("bellringer"), example_box(), **wishes)
    ways = find_repairs(design, find_all_conflicts(design), ceiling=10_000)
    near = [one.says for one in ways if one.variant.departure <= 1000]
    assert [one.says for one in find_repairs(design, find_all_conflicts(design))] == near
    assert efforts <= {one.effort for one in ways}
    assert [one.effort for one in ways] == sorted(one.effort for one in ways)
    for one in ways:
        again = search(one.design, 1).variants
        assert again[0].departure == one.variant.departure


def test_where_no_single_way_out_is_enough_several_are_told_and_none_could_be_spared() -> None:
    wishes = {"keep": frozenset({"body"}), "sizes": (20,), "max_changes": 1}
    design = blocked(example("ferrymans-dun"), example_box(), **wishes)
    (way,) = find_repairs(design, find_all_conflicts(design))
    assert way.effort is Effort.TOGETHER
    assert "let the body change" in way.says
    request = way.design.request
    assert request.keep == frozenset()
    (size,) = request.sizes
    assert f"hook size {size}" in way.says
    assert way.variant.chosen["hook"].attributes["size"] == size
    for spared in ({"keep": design.request.keep}, {"sizes": design.request.sizes}):
        again = build_problem(replace(request, **spared), rulebook())  # type: ignore[arg-type]
        assert not search(again, 1).variants


def test_a_limit_is_eased_no_further_than_it_must() -> None:
    design = blocked(example("merrel-snipe"), example_box(), max_changes=1)
    (eased,) = (
        one
        for one in find_repairs(design, find_all_conflicts(design))
        if one.effort == Effort.LIMIT
    )
    limit = eased.design.request.max_changes
    assert limit is not None
    fewer = replace(design.request, max_changes=limit - 1)
    assert not search(build_problem(fewer, rulebook()), 1).variants


def test_hair_that_is_too_short_for_a_tail_is_told_with_what_it_misses() -> None:
    dressing = fly(
        {
            "hook": "dry fly hook",
            "thread": "polyester tying thread, black",
            "body": "peacock herl",
            "hackle": "rooster-neck-dry, grizzly",
            "tail": "moose body hair, black | signature = true",
        },
        sizes="12",
    )
    stock = box(
        [
            "hooks,dry fly hook,,12,,20 hooks",
            "thread,polyester tying thread,black,,,30 m",
            "herl,peacock herl,,,,",
            "cape,rooster-neck-dry,grizzly,12,,40 feathers",
            "stubs,moose body hair,black,,2-3 mm,",
        ]
    )
    design = blocked(dressing, stock, keep=frozenset({"tail"}))
    why = find_all_conflicts(design)
    told = {
        constraint.rule.id: miss
        for conflict in why.conflicts
        for constraint in conflict
        if isinstance(constraint, RuleConstraint)
        and (miss := nearest_miss(design, constraint)) is not None
    }
    miss = told["dry-tail-not-short"]
    assert miss.number.value == pytest.approx(3.0)
    # Two fifths of the shank of a 12.
    assert miss.number.low == pytest.approx(0.4 * rulebook().scale[12].shank_mm)
    assert miss.missed_by == pytest.approx(miss.number.low - miss.number.value)  # type: ignore[operator]
    assert {one.effort for one in find_repairs(design, why)} >= {Effort.PURCHASE}
