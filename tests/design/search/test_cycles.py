"""What a search made goes with its last user: no cycle holds it until Python looks for cycles."""

from __future__ import annotations

import gc

import pytest

from tests.real import EXAMPLES
from variants.design import Request, build_problem
from variants.design.search import search
from variants.reading import read_box, read_dressing
from variants.rulebook import load_rulebook


@pytest.mark.parametrize("is_different", [False, True])
def test_no_cycle_is_left_when_a_search_is_done(is_different: bool) -> None:
    rulebook = load_rulebook()
    base = read_dressing(EXAMPLES / "dressings" / "ferrymans-dun.toml", rulebook.trade)
    request = Request(base, read_box(EXAMPLES / "box.csv", rulebook.trade))
    found = 0
    for is_counted in (False, True):  # what is worked out once and kept is no garbage
        gc.collect()
        gc.disable()
        try:
            assert search(build_problem(request, rulebook), 6, is_different).variants
            found = gc.collect()
        finally:
            gc.enable()
        assert not is_counted or found == 0
