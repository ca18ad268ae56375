"""Screens keep to 80 columns and to letters, however long and strange the names in them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.real import EXAMPLES, example, example_box, propose
from variants.design import DesignProblem
from variants.explain import explain, find_conflict, group_variants
from variants.explain.derivation import BASE, derive
from variants.model import Box
from variants.views.proposal import proposal_lines
from variants.views.reasons import conflict_lines, explanation_lines
from variants.views.tree import tree_lines

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))
LONG = "Fly-of-the-" * 30
STRANGE = "a\x1b[2J\x07\u202eb\x9b\rc\nd\te"


def named(dressing_name: str, item_name: str) -> tuple[list[str], DesignProblem]:
    """Return all screens of an answer in which every name is this one, and the problem."""
    stock = Box(
        tuple(
            replace(item, id=f"{item_name} {number}", place=item_name)
            for number, item in enumerate(example_box().items)
        )
    )
    base = replace(example("packhorse-badger"), name=dressing_name)
    design, found = propose(base, stock, best=4, water="fast")
    names = {variant.rank: (dressing_name, dressing_name) for variant in found}
    lines = proposal_lines(design, group_variants(design, found), names)
    lines += [line for one in found for line in explanation_lines(design, explain(design, one))]
    return lines + tree_lines(derive(design, found), BASE), design


def test_long_names_are_broken_at_80_columns() -> None:
    lines, _design = named(LONG, "box-within-box-" * 13)
    assert max(map(len, lines)) <= 80


def test_nothing_that_a_terminal_obeys_is_shown() -> None:
    lines, _design = named(STRANGE, STRANGE)
    assert any("a\N{REPLACEMENT CHARACTER}[2J" in line for line in lines)
    assert all(line.isprintable() for line in lines)


@pytest.mark.parametrize("name", NAMES)
def test_why_there_is_no_variant_is_told_within_80_columns(name: str) -> None:
    base = example(name)
    for wishes in ({"max_changes": 0, "missing": ["body"]}, {"missing": ["hook", "hackle"]}):
        design, found = propose(replace(base, name=LONG), example_box(), best=1, **wishes)
        conflict = find_conflict(design)
        assert (conflict is None) == bool(found)
        if conflict is not None:
            lines = conflict_lines(design, conflict)
            assert max(map(len, lines)) <= 80
            assert all(line.isprintable() for line in lines)


@pytest.mark.parametrize("name", NAMES)
def test_the_tree_of_every_example_is_shown_within_80_columns(name: str) -> None:
    for wishes in ({"different": True}, {"water": "slow"}):
        design, found = propose(example(name), example_box(), best=12, **wishes)
        assert max(map(len, tree_lines(derive(design, found), BASE))) <= 80
