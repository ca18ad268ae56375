"""Conflicts are conflicts, and smallest ones; explanations recompute."""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples, seeds
from tests.real import box, example, example_box, fly, propose
from tests.strategies.flies import dressings, held, rows
from variants.design import DesignProblem, FlyConstraint
from variants.design.search import compile_network, solve_network
from variants.explain import explain, find_conflict, quickxplain
from variants.model import Dressing


@pytest.mark.parametrize("seed", seeds(range(200)))
def test_quickxplain_gives_a_minimal_conflict(seed: int) -> None:
    dice = random.Random(seed)
    names = list(range(dice.randint(1, 8)))
    wrong = [
        frozenset(dice.sample(names, dice.randint(1, min(3, len(names)))))
        for _ in range(dice.randint(1, 4))
    ]

    def is_consistent(chosen) -> bool:
        return not any(one <= set(chosen) for one in wrong)

    conflict = set(quickxplain(names, is_consistent))
    minimal = {
        subset
        for size in range(1, len(names) + 1)
        for subset in map(frozenset, combinations(names, size))
        if not is_consistent(subset) and all(is_consistent(subset - {one}) for one in subset)
    }
    assert frozenset(conflict) in minimal


BLOCKED = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "body": "fine synthetic dubbing, medium olive",
    "hackle": "rooster-neck-dry, ginger",
    "tail": "moose body hair, black | signature = true",
}
ROWS = [
    "hooks,dry fly hook,,14,,20 hooks",
    "thread,polyester tying thread,black,,,30 m",
    "dubbing,fine synthetic dubbing,medium olive,,,1 g",
    "cape,rooster-neck-dry,ginger,14,,40 feathers",
    "stubs,moose body hair,black,,2-3 mm,",
]


def test_keeping_only_the_causes_still_fails_and_dropping_any_one_does_not() -> None:
    design, found = propose(fly(BLOCKED), box(ROWS), best=1, keep=frozenset({"tail"}))
    assert found == []
    conflict = find_conflict(design)
    assert conflict is not None
    causes = [obstacle.constraint for obstacle in conflict.obstacles]

    def is_consistent(chosen) -> bool:
        network = compile_network(design.domains, chosen)
        return next(solve_network(network), None) is not None

    assert not is_consistent(causes)
    for one in causes:
        assert is_consistent([other for other in causes if other is not one])


def can_stand(design: DesignProblem, constraints: Sequence[FlyConstraint]) -> bool:
    """Try every fly made of the parts that the constraints look at."""
    parts = sorted({part for one in constraints for part in one.parts})
    return any(
        all(one.allows([fly[part] for part in one.parts]) for one in constraints)
        for choice in product(*(design.domains[part] for part in parts))
        for fly in [dict(zip(parts, choice, strict=True))]
    )


@given(dressings(), rows(), st.none() | st.integers(0, 2))
@settings(max_examples=examples(120))
def test_every_conflict_of_any_fly_and_box_is_a_smallest_one(
    base: Dressing, told: list[str], most: int | None
) -> None:
    design, found = propose(base, held(told), best=1, max_changes=most)
    conflict = find_conflict(design)
    assert (conflict is None) == bool(found)
    if conflict is None or conflict.empty_parts:
        return
    causes = [obstacle.constraint for obstacle in conflict.obstacles]
    assert not can_stand(design, causes)
    for one in causes:
        assert can_stand(design, [other for other in causes if other is not one])


def test_a_conflict_tells_what_came_nearest() -> None:
    design, _found = propose(fly(BLOCKED), box(ROWS), best=1, keep=frozenset({"tail"}))
    conflict = find_conflict(design)
    assert conflict is not None
    nearest = [one.nearest for one in conflict.obstacles if one.nearest]
    assert any(
        items[0].id == "stubs"
        for miss in nearest
        for candidate in miss.chosen
        for items in candidate.items
    )


def test_nothing_left_for_a_part_is_told_by_the_parts_name() -> None:
    design, _found = propose(fly(BLOCKED), box(ROWS[1:]), best=1)
    conflict = find_conflict(design)
    assert conflict is not None
    assert conflict.empty_parts == ("hook",)


def test_a_problem_with_a_variant_has_no_conflict() -> None:
    design, _found = propose(example("tollgate-amber"), example_box(), best=1)
    assert find_conflict(design) is None


def test_the_numbers_of_an_explanation_add_up_to_the_departure() -> None:
    design, found = propose(example("tenter-mill-quill"), example_box(), best=10)
    for variant in found:
        told = explain(design, variant)
        terms = sum(term.cost for reason in told.parts for term in reason.terms)
        rules = sum(
            judgement.finding.cost for reason in told.parts for judgement in reason.judgements
        )
        assert terms + rules == variant.departure


def test_every_judgement_names_a_source() -> None:
    design, found = propose(example("tenter-mill-quill"), example_box(), best=1)
    for reason in explain(design, found[0]).parts:
        assert all(judgement.rule.source for judgement in reason.judgements)
        assert all(term.source for term in reason.terms)
