"""Hooks of every model: a larger number is a smaller hook, at the ends of the scale as well."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.real import rulebook
from variants.model import Material

HOOKS = [one for one in rulebook().trade.materials.values() if "hook" in one.functions]


@pytest.mark.parametrize("model", HOOKS, ids=lambda one: one.id)
def test_shank_and_wire_shrink_from_size_to_size(model: Material) -> None:
    hooks = [rulebook().hook(model, size) for size in sorted(rulebook().scale)]
    for larger, smaller in pairwise(hooks):
        assert larger is not None
        assert smaller is not None
        assert larger.shank_mm > smaller.shank_mm
        assert larger.wire_mm >= smaller.wire_mm


def test_a_long_hook_has_the_shank_of_the_size_that_it_is_named_after() -> None:
    # "4X long" reads: the shank of a hook four sizes larger (rules/hooks/relations.tsv).
    trade = rulebook().trade
    long, plain = trade.materials["hook-streamer"], trade.materials["hook-dry-standard"]
    for size in (6, 8, 10, 12):
        found, named = rulebook().hook(long, size), rulebook().hook(plain, size - 4)
        assert found is not None
        assert named is not None
        assert found.shank_mm == named.shank_mm


def test_beyond_the_scale_its_curve_runs_on() -> None:
    long = rulebook().trade.materials["hook-streamer"]
    shanks = [hook.shank_mm for size in range(2, 9) if (hook := rulebook().hook(long, size))]
    shares = [one / other for one, other in pairwise(shanks)]
    assert len(shares) == 6
    assert shares == pytest.approx([shares[-1]] * 6, rel=0.01)
