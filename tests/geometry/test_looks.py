"""The tables of the pictures: nothing of the trade is without a look, and bad rows are refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.real import rulebook
from variants.geometry import load_layout
from variants.reading import InputError

LOOKS = load_layout().looks
TRADE = rulebook().trade


def test_every_stuff_that_bodies_are_made_of_has_a_texture() -> None:
    for material in TRADE.materials.values():
        if material.functions & {"body", "thorax", "butt", "tag", "tip", "rib"}:
            assert LOOKS.texture(material.id, material.kind, material.texture).source, material.id


def test_every_marking_lies_somehow_along_a_barb() -> None:
    assert set(LOOKS.markings) == set(TRADE.markings)


def test_every_hook_has_a_bend_and_an_eye_that_can_be_drawn() -> None:
    for model in TRADE.hook_models.values():
        assert model.bend in LOOKS.bends
        assert model.eye in LOOKS.eyes


def test_every_style_has_a_manner_for_its_hackles() -> None:
    for style in TRADE.styles.values():
        for part in style.parts:
            if part.part in ("hackle", "palmer", "collar"):
                assert LOOKS.hackle([style.id], [part.part], {}).source


def test_every_family_of_colour_has_a_hatching() -> None:
    words = {
        colour.family.split("+")[0].split()[-1]
        for colour in TRADE.colours.values()
        if colour.family
    }
    assert words <= set(LOOKS.hatchings)


def test_what_tells_most_of_a_stuff_is_taken_first() -> None:
    assert LOOKS.feather(["tail"], "rooster-neck-dry", "rooster hackle").manner == "fibres"
    assert LOOKS.feather(["wing"], "rooster-neck-dry", "rooster hackle").manner == "tip"
    assert LOOKS.texture("tinsel-oval-gold", "tinsel", "segmented").manner == "wound"
    assert LOOKS.texture("tinsel-flat-gold", "tinsel", "flat").manner == "banded"


MARKINGS = "marking\tmanner\tsteps\tcount\tsource\n"


def own(folder: Path, name: str, text: str) -> Path:
    (folder / "pictures").mkdir(exist_ok=True)
    (folder / "pictures" / name).write_text(text, encoding="utf-8")
    return folder


def test_a_tyers_own_table_adds_to_ours_and_overrides_it(tmp_path: Path) -> None:
    own(tmp_path, "markings.tsv", MARKINGS + "barred\tbars\t\t3\tcommon practice\n")
    looks = load_layout([tmp_path]).looks
    assert looks.markings["barred"].count == 3
    assert looks.markings["solid"].manner == "plain"


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("barred\tstripes\t\t3\tx\n", "'stripes' is not known here"),
        ("barred\tbars\t\tmany\tx\n", "'many' is not a number"),
        ("badger\trun\t0.4 1; half 2\t\tx\n", "'half 2' is no step along a barb"),
        ("badger\trun\t0.9 1; 0.4 2\t\tx\n", "the steps don't run from the stem to the tip"),
        ("badger\trun\t0.4 1; 1 9\t\tx\n", "'1 9' is no step along a barb"),
        ("badger\tplain\t\t\t\n", "the source is missing"),
    ],
)
def test_a_bad_row_is_refused_with_its_line(tmp_path: Path, row: str, message: str) -> None:
    own(tmp_path, "markings.tsv", MARKINGS + row)
    with pytest.raises(InputError) as caught:
        load_layout([tmp_path])
    assert message in str(caught.value)
    assert "markings.tsv:2" in str(caught.value)
