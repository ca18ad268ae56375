"""Do I own something like this, and where? In any spelling, by any trade name."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.real import example_box, rulebook
from variants.box.item_search import ItemMatch, ItemQuery, ItemSearch
from variants.box.new_item import load_item_parser
from variants.model import Box
from variants.reading import InputError
from variants.reading.words import load_glossary
from variants.rulebook import own_rules_folder
from variants.rulebook.colours import colour_difference


@cache
def finder() -> ItemSearch:
    return ItemSearch(rulebook(), load_glossary([own_rules_folder()], rulebook().trade))


def found(words: str, **more: object) -> list[ItemMatch]:
    return finder().find(example_box(), ItemQuery(words=words, **more))  # type: ignore[arg-type]


def names(words: str) -> list[str]:
    return [one.item.id for one in found(words) if not one.why]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("gray duck quill", "grey duck quills"),
        ("hackle", "Hackles"),
        ("tailing fibers", "tailing fibres"),
        ("hare's ear", "hares ear"),
        ("PEACOCK HERLS", "peacock herl"),
        ("grizzly hackle", "grizzle hackle"),
        ("partridge", "patridge"),
    ],
)
def test_spelling_and_number_do_not_matter(one: str, other: str) -> None:
    assert set(names(one)) == set(names(other))
    assert names(one)


@pytest.mark.parametrize(
    ("words", "item"),
    [
        ("hare's ear", "hare's mask"),  # one stuff by two names
        ("cree cape", "cock neck cree"),
        ("tying silk yellow", "silk thread yellow"),
        ("biscuit tin", "jig hooks 14"),
        ("olive fur", "rabbit dubbing olive"),
    ],
)
def test_other_names_of_the_trade_are_known(words: str, item: str) -> None:
    assert item in names(words)


def test_what_is_called_so_comes_before_what_lies_there() -> None:
    first = found("gold wire")
    assert [one.item.id for one in first[:2]] == ["gold wire extra fine", "gold wire fine"]


def test_a_colour_asks_for_shades_within_a_distance() -> None:
    olive = rulebook().trade.colour_names["olive"]
    answers = found("", colour=olive, within=8.0)
    assert answers
    for one in answers:
        assert one.item.colour is not None
        assert one.apart == colour_difference(olive, one.item.colour)
        assert one.apart is not None
        assert one.apart <= 8.0
    missed = {item.id for item in example_box().items} - {one.item.id for one in answers}
    for item in example_box().items:
        if item.id in missed and item.colour is not None:
            apart = colour_difference(olive, item.colour)
            assert apart is None or apart > 8.0


def test_a_size_asks_for_what_suits_it() -> None:
    part = rulebook().trade.parts["hackle"]
    right = rulebook().gauge[14]
    for one in found("", part=part, size=14):
        assert one.item.material.functions & part.functions
        if one.item.sizes is not None:
            assert 14 in one.item.sizes
        elif one.item.length_mm is not None:
            assert one.item.length_mm[0] <= right <= one.item.length_mm[1]


def test_a_material_that_is_not_there_brings_its_kind() -> None:
    mole = rulebook().trade.materials["mole-dubbing"]
    box = Box(tuple(item for item in example_box().items if item.material.id != mole.id))
    answers = finder().find(box, ItemQuery(material=mole))
    assert answers
    assert all(one.why and one.item.material.kind == mole.kind for one in answers)


def test_what_answers_to_a_part_of_the_words_comes_near() -> None:
    answers = found("ginger unobtainium cape")
    assert answers
    assert all("nothing about “unobtainium”" in one.why for one in answers)
    assert found("unobtainium") == []


@given(st.text(max_size=40))
def test_any_words_are_answered_or_not(words: str) -> None:
    for one in found(words):
        assert 0.0 <= one.score <= 100.0


def test_the_like_is_pointed_out() -> None:
    thing = load_item_parser(rulebook(), []).parse(
        {"item": "another", "material": "cock cape", "colour": "cree", "sizes": "10-16"},
        example_box(),
    )
    cree = example_box().item("cock neck cree")
    assert cree is not None
    is_same = cree.sizes == thing.item.sizes
    assert [one.id for one in thing.duplicates] == (["cock neck cree"] if is_same else [])
    again = load_item_parser(rulebook(), []).parse(
        {"item": "third", "material": "dry fly hook", "sizes": "12"}, example_box()
    )
    assert {"dry hooks 12", "dry hooks 12 second packet"} == {one.id for one in again.duplicates}


def test_a_blend_gets_its_shade_and_can_be_made_again() -> None:
    thing = load_item_parser(rulebook(), []).parse(
        {"item": "mine", "blend": "1 rabbit, black + 1 mole, white", "amount": "4 pinches"}, None
    )
    black = rulebook().trade.colours["black"].hexes[0]
    white = rulebook().trade.colours["white"].hexes[0]
    assert thing.blend is not None
    assert thing.cells["colour"] == thing.blend.shade
    assert thing.item.material.id == "rabbit-dubbing"
    # Fibres mix in linear light: half way by light, far above half way by the screen's numbers.
    for channel in (1, 3, 5):
        one, other, mix = (
            int(shade[channel : channel + 2], 16) for shade in (black, white, thing.blend.shade)
        )
        assert (one + other) / 2 < mix < max(one, other)


def test_a_name_that_leaves_the_material_open_is_refused_with_the_nearest() -> None:
    with pytest.raises(InputError, match="does not tell which material"):
        load_item_parser(rulebook(), []).parse({"item": "olive packet"}, None)
