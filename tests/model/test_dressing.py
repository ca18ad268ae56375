"""Dressings and what they are made of, as they are shown."""

from __future__ import annotations

from dataclasses import replace

from tests.build import SMALL, dressing, ingredient, part
from variants.model import Ingredient, Origin


def test_the_colour_is_said_before_the_material() -> None:
    assert ingredient("hen-neck", "olive").words == "olive hen neck"


def test_a_colour_that_the_name_holds_is_not_said_again() -> None:
    quill = ingredient("duck-quill", "blue-dun")
    assert quill.words == "blue dun duck quill"
    named = Ingredient(replace(quill.material, name="Blue Dun quill"), quill.colour)
    assert named.words == "Blue Dun quill"


def test_stuff_without_a_colour_is_its_name() -> None:
    assert ingredient("hook-wet").words == "wet-fly hook"
    assert ingredient("hook-wet").key == ("hook-wet", "")


def test_a_part_is_found_by_its_id() -> None:
    fly = dressing(part("hackle", "hen-neck"))
    found = fly.part("hackle")
    assert found is not None
    assert found.ingredients[0].colour == SMALL.colours["blue-dun"]
    assert fly.part("wing") is None


def test_where_it_was_read_does_not_make_a_dressing_another() -> None:
    one = dressing(part("hackle", "hen-neck", origin=Origin("a.toml", 3)))
    assert one == dressing(part("hackle", "hen-neck"), origin=Origin("b.toml"))


def test_an_origin_is_shown_as_file_and_line() -> None:
    assert str(Origin("box.csv", 12, "sizes")) == "box.csv:12"
    assert str(Origin("box.csv")) == "box.csv"
