"""`search_needed`: the exact order, less the variants that change more than they must."""

from __future__ import annotations

import pytest

from tests.real import example, example_box, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import as_variant, search, search_needed
from variants.model import Variant

NAMES = ["ferrymans-dun", "tenter-mill-quill", "merrel-snipe", "bellringer"]


def is_needless(design: DesignProblem, variant: Variant, part: str) -> bool:
    """Put the part as written back and judge the whole fly anew."""
    for written in design.domains[part]:
        if written.is_changed:
            continue
        chosen = {**variant.chosen, part: written}
        kept = all(
            constraint.allows([chosen[other] for other in constraint.parts])
            for constraint in design.constraints
        )
        if kept and as_variant(design, chosen, 0).departure <= variant.departure:
            return True
    return False


@pytest.mark.parametrize("name", NAMES)
def test_needed_variants_are_those_of_the_exact_order_without_needless_changes(name: str) -> None:
    design = build_problem(Request(example(name), example_box()), rulebook())
    whole = search(design, 150).variants
    expected = [
        variant
        for variant in whole
        if not any(is_needless(design, variant, part) for part in variant.changed)
    ]
    found, _looked = search_needed(design, max(1, len(expected)))
    made = [tuple(one.identity for one in v.chosen.values()) for v in found.variants]
    assert [v.departure for v in found.variants][: len(expected)] == [v.departure for v in expected]
    for variant in expected:
        assert tuple(one.identity for one in variant.chosen.values()) in made
    assert [variant.rank for variant in found.variants] == list(range(1, len(found.variants) + 1))


def test_no_shown_change_can_be_put_back() -> None:
    design = build_problem(Request(example("ferrymans-dun"), example_box()), rulebook())
    found, _looked = search_needed(design, 5)
    assert len(found.variants) == 5
    for variant in found.variants:
        assert variant.changed
        assert not any(is_needless(design, variant, part) for part in variant.changed)
