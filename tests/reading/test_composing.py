"""Stuff and colours that no row has: composed of their words, the same wherever they are named."""

from __future__ import annotations

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reading.test_plain import glossary, part, read
from variants.cielab import ciede2000, lab_of
from variants.model import plain


@pytest.mark.parametrize(
    ("name", "like"),
    [
        ("turkey rump feather", "hen-saddle"),  # its form is a feather to wind
        ("otter belly fur", "otter-dubbing"),  # the beast's own fur
    ],
)
def test_an_animals_stuff_is_graded_as_the_row_of_its_form_and_says_so(
    name: str, like: str
) -> None:
    trade = glossary().trade
    found = trade.material_names[name]
    row = trade.materials[like]
    assert found.id not in trade.materials
    assert (found.kind, found.stiffness, found.water) == (row.kind, row.stiffness, row.water)
    assert row.name in found.note
    assert trade.material_names[plain(found.id)] == found


def test_law_speaks_of_the_animal_and_not_of_what_grades_its_stuff() -> None:
    names = glossary().trade.material_names
    assert names["heron tail feather"].taxa == names["heron herl"].taxa != ()
    assert names["rook wing feather"].taxa != names["hen saddle"].taxa


@pytest.mark.parametrize("name", ["unicorn hair", "purple rump", "saddle", "turkey thrubble"])
def test_what_names_no_animal_or_an_unknown_word_composes_nothing(name: str) -> None:
    assert glossary().trade.material_names.get(name) is None


def test_a_shade_lies_between_the_colours_it_is_composed_of() -> None:
    names = glossary().trade.colour_names
    mixed, orange, brown = names["orange brown"], names["orange"], names["brown"]
    between, one, other = (lab_of(found.hexes[0]) for found in (mixed, orange, brown))
    apart = ciede2000(one, other)
    assert ciede2000(between, one) < apart
    assert ciede2000(between, other) < apart
    assert names["dark claret"].hexes != names["claret"].hexes


def test_what_a_dressing_composes_is_what_a_file_names() -> None:
    text = "Hackle: turkey rump feather, orange brown"
    (hackle,) = part(read(text), "hackle").choices[0].ingredients
    trade = glossary().trade
    assert hackle.ingredient.material == trade.material_names["turkey rump feather"]
    assert hackle.ingredient.colour == trade.colour_names["orange brown"]
    assert hackle.confidence < 1.0


def test_composed_names_are_there_in_another_process() -> None:
    trade = pickle.loads(pickle.dumps(glossary().trade))
    assert trade.material_names["turkey rump feather"].note


@given(st.text(max_size=40))
def test_any_name_composes_what_has_that_name_or_nothing(name: str) -> None:
    found = glossary().trade.material_names.get(plain(name))
    assert found is None or found.name
