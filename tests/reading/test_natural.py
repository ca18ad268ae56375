"""The colour that stuff has by nature, where no colour is named or the word for it."""

from __future__ import annotations

import pytest

from tests.real import box, fly
from variants.reading import InputError


@pytest.mark.parametrize("word", ["", "natural", "Natural"])
def test_natural_or_nothing_means_the_colour_that_the_stuff_has_by_nature(word: str) -> None:
    (item,) = box([f"mask,hare's mask,{word},,,2 g"]).items
    part = fly({"hook": "dry fly hook", "body": f"hare's mask, {word}"}).part("body")
    assert part is not None
    for colour in (item.colour, part.ingredients[0].colour):
        assert colour is not None
        assert colour.id == "hares-ear"


def test_a_blend_may_be_of_natural_stuff() -> None:
    rows = ["mix,hare's mask,,,,1 g,\"3 hare's mask, natural + 1 rabbit, olive\""]
    (item,) = box(rows, "item,material,colour,sizes,length,amount,blend").items
    assert [part.colour and part.colour.id for part in item.blend] == ["hares-ear", "medium-olive"]


def test_stuff_whose_own_colour_is_not_known_has_no_natural_one() -> None:
    with pytest.raises(InputError) as told:
        box(["skein,spun fur yarn,natural,,,2 m"])
    assert "'natural' is no colour that the tables know" in str(told.value)
