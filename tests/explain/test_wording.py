"""Screens fit 80 columns and say what they count."""

from __future__ import annotations

import pytest

from tests.real import EXAMPLES, example, example_box, propose
from variants.explain import explain, group_variants
from variants.views.proposal import proposal_lines
from variants.views.reasons import explanation_lines

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


@pytest.mark.parametrize("name", NAMES)
def test_every_example_is_shown_within_80_columns(name: str) -> None:
    design, found = propose(example(name), example_box(), best=5, water="fast")
    lines = proposal_lines(design, group_variants(design, found))
    if found:
        lines += explanation_lines(design, explain(design, found[-1]))
    assert max(map(len, lines)) <= 80


def test_a_variant_as_written_says_so() -> None:
    design, found = propose(example("tollgate-amber"), example_box(), best=1)
    assert "nothing: as written" in "\n".join(proposal_lines(design, group_variants(design, found)))
