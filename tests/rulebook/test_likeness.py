"""Likeness of materials: laws that hold for every pair of the tables, and what evidence does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.real import rulebook
from variants.model import Material, Trade
from variants.rulebook.likeness import Likeness

TRADE = rulebook().trade
LIKENESS = rulebook().likeness
MATERIALS = st.sampled_from(sorted(TRADE.materials.values(), key=lambda one: one.id))
COLOURS = st.sampled_from(sorted(TRADE.colours.values(), key=lambda one: one.id))
PLACES = st.sampled_from(
    [
        (part.part, style.id)
        for style in TRADE.styles.values()
        for part in style.parts
        if part.part != "hook"
    ]
)


def distance(likeness: Likeness, wanted: Material, found: Material, place: tuple[str, str]) -> int:
    return sum(term.cost for term in likeness.material(wanted, found, *place))


@given(MATERIALS, PLACES)
def test_stuff_is_no_distance_from_itself(one: Material, place: tuple[str, str]) -> None:
    assert LIKENESS.material(one, one, *place) == ()


@given(MATERIALS, MATERIALS, PLACES)
def test_every_difference_costs_and_is_told_with_a_source(
    wanted: Material, found: Material, place: tuple[str, str]
) -> None:
    terms = LIKENESS.material(wanted, found, *place)
    assert all(term.cost > 0 and term.says and term.source for term in terms)
    assert (not terms) == (wanted.id == found.id)
    scales = LIKENESS.tables.scales
    lacking = len(LIKENESS.unmet(wanted, found, *place)) if wanted.id != found.id else 0
    most = 1000 + scales["another"] + scales["unusual"] + lacking * scales["unmet"]
    assert sum(term.cost for term in terms) <= round(most) + len(terms)


@given(COLOURS, COLOURS, PLACES)
def test_colours_differ_only_from_others(wanted: object, found: object, place: object) -> None:
    part, style = place  # type: ignore[misc]
    terms = LIKENESS.colour(wanted, found, part, style)  # type: ignore[arg-type]
    assert all(term.cost > 0 for term in terms)
    if wanted == found:
        assert not terms


def _with_substitutes(material: Material, like: Material) -> tuple[Likeness, Material]:
    """Return a likeness over tables in which a material names another's stand-ins."""
    changed = replace(material, substitutes=like.substitutes)
    materials = {**TRADE.materials, material.id: changed}
    trade = replace(TRADE, materials=materials)
    assert isinstance(trade, Trade)
    return Likeness(trade, LIKENESS.tables), changed


@pytest.mark.parametrize(
    "wanted", [one for one in TRADE.materials.values() if one.substitutes][:60]
)
def test_a_published_exchange_only_ever_brings_nearer(wanted: Material) -> None:
    silent, bare = _with_substitutes(wanted, replace(wanted, substitutes=()))
    for style in TRADE.styles.values():
        for part in style.parts:
            kind = TRADE.parts[part.part]
            if not wanted.functions & kind.functions:
                continue
            place = part.part, style.id
            for substitute in wanted.substitutes:
                found = TRADE.materials[substitute.material]
                near = distance(LIKENESS, wanted, found, place)
                assert near < distance(silent, bare, found, place)


def test_earlier_names_in_a_list_of_stand_ins_keep_less_of_the_distance() -> None:
    for wanted in TRADE.materials.values():
        shares = [
            LIKENESS.published_share(wanted, TRADE.materials[one.material])
            for one in wanted.substitutes
        ]
        backwards = {
            one.material
            for one in wanted.substitutes
            if wanted.id in {back.material for back in TRADE.materials[one.material].substitutes}
        }
        if not backwards:
            assert shares == sorted(shares)
        assert all(share < 1 for share in shares)
