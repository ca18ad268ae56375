"""Dressings in the trade's plain words: what they mean, what is told, what any text does."""

from __future__ import annotations

import sys
from contextlib import suppress
from functools import cache
from pathlib import Path
from types import FrameType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from variants.reading import InputError, TomlDocument, parse_dressing, read_trade
from variants.reading.words import Glossary, PartReading, Reading, load_glossary, read_plain
from variants.reading.words import dressing_text as written

RULES = Path(__file__).parents[2] / "rules"
Pair = tuple[str, str]


@cache
def glossary() -> Glossary:
    return load_glossary([RULES], read_trade([RULES]))


def read(*lines: str, style: str | None = "winged-wet") -> Reading:
    found = read_plain("\n".join(["Reed Cutter", *lines]), glossary(), style=style)
    assert len(found) == 1
    return found[0]


def part(reading: Reading, name: str) -> PartReading:
    return next(one for one in reading.parts if one.part == name)


def choices(reading: Reading, name: str) -> list[list[Pair]]:
    """The author's alternatives for a part, as ids of materials and colours."""
    return [
        [
            (one.ingredient.material.id, one.ingredient.colour.id if one.ingredient.colour else "")
            for one in choice.ingredients
        ]
        for choice in part(reading, name).choices
    ]


def only(words: str, name: str, style: str = "winged-wet") -> list[Pair]:
    """What a part's words mean, where they leave one choice and nothing is dark."""
    reading = read(f"{name}: {words}", style=style)
    assert reading.unread == ()
    (choice,) = choices(reading, name)
    return choice


@pytest.mark.parametrize(
    ("name", "words", "means"),
    [
        ("body", "yellow floss", [("silk-floss", "yellow")]),
        ("body", "Yel. floss", [("silk-floss", "yellow")]),
        ("wing", "Lt. gray", [("duck-quill-slip", "light-grey")]),
        ("wing", "Dk. Grey", [("duck-quill-slip", "dark-grey")]),
        ("tail", "Br. hkl.", [("rooster-neck-wet", "brown")]),
        ("body", "black and yellow chenille",
         [("chenille-standard", "black"), ("chenille-standard", "yellow")]),
        ("wing", "White & scarlet", [("duck-quill-slip", "white"), ("duck-quill-slip", "scarlet")]),
        ("wing", "black and brown mottled turkey", [("turkey-mottled", "mottled-black-brown")]),
        ("wing", "Brown speckled wood duck", [("wood-duck-flank", "wood-duck-lemon")]),
        ("tail", "grey speckled", [("mallard-flank", "mallard-flank")]),
        ("rib", "gold", [("tinsel-flat-gold", "gold")]),
        ("rib", "fine gold wire", [("wire-fine-gold", "gold")]),
    ],
)  # fmt: skip
def test_words_mean_what_a_tyer_takes_them_for(name: str, words: str, means: list[Pair]) -> None:
    assert only(words, name) == means


def test_a_red_hackle_is_natural_red_and_red_hair_is_dyed() -> None:
    assert only("red", "hackle") == [("hen-neck", "red-game")]
    assert only("red schlappen", "hackle") == [("schlappen", "scarlet")]
    assert only("red hen neck", "hackle") == [("hen-neck", "red-game")]


def test_the_style_decides_what_a_bare_colour_is_made_of() -> None:
    assert only("brown", "hackle", "winged-wet") == [("hen-neck", "brown")]
    assert only("brown", "hackle", "dry-upright") == [("rooster-neck-dry", "brown")]


def test_what_custom_fills_in_is_told_with_its_reason_and_trusted_less() -> None:
    (bare,) = part(read("Hackle: brown"), "hackle").choices[0].ingredients
    (named,) = part(read("Hackle: brown hen neck"), "hackle").choices[0].ingredients
    assert bare.ingredient == named.ingredient
    assert [one.what for one in bare.inferences] == ["material"]
    assert all(one.says and one.source for one in bare.inferences)
    assert bare.confidence < named.confidence == 1.0


def test_words_for_another_part_go_to_that_part() -> None:
    reading = read("Body: peacock herl ribbed with fine gold wire", "Hackle: brown, tied palmer")
    assert choices(reading, "body") == [[("peacock-herl", "peacock-bronze")]]
    assert choices(reading, "rib") == [[("wire-fine-gold", "gold")]]
    assert choices(reading, "palmer") == [[("rooster-neck-wet", "brown")]]
    assert "hackle" not in {one.part for one in reading.parts}


def test_a_label_may_name_two_parts() -> None:
    reading = read("Hackle and whisk: ginger", style="dry-upright")
    assert choices(reading, "hackle") == [[("rooster-neck-dry", "ginger")]]
    assert choices(reading, "tail") == [[("rooster-neck-dry", "ginger")]]


def test_alternatives_stay_alternatives_and_the_first_is_taken() -> None:
    reading = read("Body: claret mohair or wool", "Rib: silver or none")
    assert choices(reading, "body") == [[("mohair-dubbing", "claret")], [("wool-yarn", "claret")]]
    assert choices(reading, "rib") == [[("tinsel-flat-silver", "silver")], []]
    assert reading.dressing is not None
    body, rib = reading.dressing.part("body"), reading.dressing.part("rib")
    assert body is not None
    assert rib is not None
    assert [way.ingredients[0].material.id for way in body.ways] == ["mohair-dubbing", "wool-yarn"]
    assert (rib.ingredients[0].material.id, rib.may_go) == ("tinsel-flat-silver", True)
    assert len(list(reading.dressing.ways())) == 4


def test_none_is_not_used_or_not_stated_and_told_so() -> None:
    reading = read("Tail: None", "Body: yellow floss")
    assert reading.unstated == (("tail", 2),)
    assert "tail" not in {one.part for one in reading.parts}


def test_what_is_not_understood_is_told_with_its_line_and_near_names() -> None:
    reading = read("Body: yellow floss", "Hackle: thrubbled hen", "Wing: brown hakle tips")
    assert [(one.line, one.field, one.words) for one in reading.unread] == [
        (3, "hackle", "thrubbled")
    ]
    assert part(reading, "hackle").confidence <= 0.5
    assert part(reading, "body").confidence == 1.0


def test_a_slip_of_the_pen_is_read_as_what_it_is_nearly_spelt_like_and_told() -> None:
    (wing,) = part(read("Wing: brown hakle tips"), "wing").choices[0].ingredients
    assert wing.ingredient.material.id == "hackle-tips"
    assert [one.says for one in wing.inferences if one.what == "spelling"] == [
        "'hakle' is taken for 'hackle'"
    ]
    assert wing.confidence < 1.0


def test_a_part_given_twice_is_of_both_and_a_label_that_is_no_part_is_told() -> None:
    reading = read("Body: yellow floss", "Body: black floss", "Hackel: brown")
    assert choices(reading, "body") == [[("silk-floss", "yellow"), ("silk-floss", "black")]]
    assert part(reading, "body").confidence < 1.0
    (told,) = reading.unread
    assert (told.line, told.field, "no part" in told.why, "hackle" in told.near) == (
        4, "Hackel", True, True,
    )  # fmt: skip


def test_a_text_that_says_nothing_of_the_fly_is_no_dressing() -> None:
    reading = read("Body: none", "Hackle: none")
    assert reading.dressing is None
    assert reading.confidence == 0.0
    assert [one.why for one in reading.unread] == ["says nothing of what the fly is made of"]


def test_without_a_style_nothing_is_made_up() -> None:
    reading = read("Body: yellow floss", style=None)
    assert reading.dressing is None
    assert [one.field for one in reading.unread] == ["style"]
    stated = read("Style: soft hackle", "Body: yellow floss", style=None)
    assert stated.dressing is not None
    assert stated.dressing.style == "soft-hackle"


@pytest.mark.parametrize("words", ["no size 12", "dry fly or none, 12"])
def test_no_choice_does_without_a_hook(words: str) -> None:
    reading = read(f"Hook: {words}", "Body: yellow floss")
    assert reading.dressing is not None
    hook = reading.dressing.part("hook")
    assert hook is not None
    assert not hook.may_go


def test_sizes_counts_and_measures_are_kept() -> None:
    reading = read("Hook: wet fly, sizes 10 to 14", "Hackle: brown hen neck, 3 turns")
    assert reading.dressing is not None
    assert reading.dressing.sizes == (10, 12, 14)
    assert part(reading, "hackle").counts == {"turns": 3}


@pytest.mark.parametrize("words", ["0 mm long", "9000 mm long", "500 gape", "0 mm thick"])
def test_a_measure_that_no_fly_can_have_is_told(words: str) -> None:
    reading = read(f"Body: yellow floss, {words}")
    body = part(reading, "body")
    assert body.length is None
    assert body.thickness is None
    assert {one.line for one in reading.unread} == {2}


def test_a_length_and_a_thickness_are_kept() -> None:
    body = part(read("Body: yellow floss, 9 mm long, 1.2 mm thick"), "body")
    assert str(body.length) == "9.0 millimeter"
    assert str(body.thickness) == "1.2 millimeter"


ROW = ["Reed Cutter", "Gold", "None", "None", "Yellow floss", "Brown", "Grey"]


def test_the_three_layouts_read_the_same() -> None:
    labelled = read("Wing: Grey", "Tag: Gold", "Body: Yellow floss", "Hackle: Brown")
    (row,) = read_plain("\t".join(ROW), glossary(), style="winged-wet")
    (lines,) = read_plain("\n".join(ROW), glossary(), style="winged-wet")
    made = [
        {one.part: choices(reading, one.part) for one in reading.parts}
        for reading in (labelled, row, lines)
    ]
    assert made[0] == made[1] == made[2]
    assert row.name == lines.name == "Reed Cutter"


def test_columns_may_stand_in_any_order_under_a_header() -> None:
    text = "body\tname\thackle\nYellow floss\tReed Cutter\tBrown\nBlack\tSluice\tGrey\n"
    found = read_plain(text, glossary(), style="winged-wet")
    assert [one.name for one in found] == ["Reed Cutter", "Sluice"]
    assert choices(found[1], "body") == [[("silk-floss", "black")]]


def test_lines_that_name_nothing_are_told_each_and_make_no_dressing() -> None:
    (reading,) = read_plain("a word\nand another\nto sit on\n", glossary())
    assert reading.dressing is None
    assert [one.words for one in reading.unread if not one.field] == ["and another", "to sit on"]


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n"])
def test_a_text_without_words_is_refused_with_its_place_and_what_would_be_right(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_plain(text, glossary(), file="odd.txt")
    (fault,) = caught.value.faults
    assert fault.origin.file == "odd.txt"
    assert fault.origin.line >= 1
    assert "write" in str(caught.value)


def test_a_label_and_its_words_may_stand_a_tab_apart() -> None:
    assert only("\tyellow floss", "body") == [("silk-floss", "yellow")]


def test_what_can_not_be_seen_is_refused_with_its_line() -> None:
    with pytest.raises(InputError) as caught:
        read_plain("Reed Cutter\nBody: black\x1b[2J floss\n", glossary(), file="odd.txt")
    (fault,) = caught.value.faults
    assert (fault.origin.line, "can't be seen" in fault.problem) == (2, True)


TRADE_WORDS = [
    "Body:", "Hackle and whisk:", "Wing", "hook:", "style: nymph", "sizes: 12-16", "name:", "None",
    "or", "and", "&", ",", "with", "ribbed with", "tied palmer", "cheeks", "tip", "Lt.", "Dk.",
    "brown", "red", "grizzly", "mottled", "speckled", "peacock herl", "floss", "wool", "gold",
    "partridge", "wood duck", "hkl.", "(", ")", "/", ":", "\t", "\n", "\n\n", "3 turns", "12-99",
    "1.5 gape", "0 mm long", "é", "\x00", "\u202e", "’s", "\r",
]  # fmt: skip
HOSTILE = st.one_of(
    st.text(max_size=300),
    st.lists(st.sampled_from(TRADE_WORDS), max_size=60).map(" ".join),
    st.lists(st.one_of(st.sampled_from(TRADE_WORDS), st.text(max_size=6)), max_size=30).map(
        " ".join
    ),
)


@settings(deadline=None, max_examples=examples(300))
@given(HOSTILE, st.sampled_from([None, "winged-wet", "dry-upright", "streamer"]))
def test_any_text_gives_readings_or_a_located_complaint(text: str, style: str | None) -> None:
    with suppress(InputError):
        lines = text.count("\n") + 1
        for reading in read_plain(text, glossary(), style=style):
            assert 0.0 <= reading.confidence <= 1.0
            assert all(1 <= one.line <= lines and one.why for one in reading.unread)
            assert all(0.0 <= one.confidence <= 1.0 for one in reading.parts)
            if reading.dressing is not None:
                assert len(list(reading.dressing.ways())) <= 64


@settings(deadline=None, max_examples=examples(300))
@given(HOSTILE)
def test_what_was_read_is_written_and_read_back_equal(text: str) -> None:
    trade = glossary().trade
    found: tuple[Reading, ...] = ()
    with suppress(InputError):
        found = read_plain(f"Body: black floss\n{text}", glossary(), style="winged-wet")
    for reading in found:
        if (dressing := reading.dressing) is not None:
            document = TomlDocument(written(dressing, trade), "back.toml")
            assert parse_dressing(document, trade) == dressing


@pytest.mark.parametrize(
    "unit",
    ["Body: brown or ", "black and ", "Body: x\n", "a\tb\n", "zzyzx ", "mottled ", "Body:", "(,"],
)
def test_a_text_eight_times_as_long_takes_no_more_than_its_share(unit: str) -> None:
    def calls(times: int) -> int:
        made = 0

        def count(_frame: FrameType, event: str, _what: object) -> None:
            nonlocal made
            made += event in ("call", "c_call")

        before = sys.getprofile()
        sys.setprofile(count)
        try:
            with suppress(InputError):
                read_plain("Name\nBody: " + unit * times, known, style="winged-wet")
        finally:
            sys.setprofile(before)
        return made

    known = glossary()
    calls(500)
    assert calls(4000) < 8 * 1.5 * max(calls(500), 1000)


@pytest.mark.parametrize(
    ("name", "words", "means"),
    [
        ("body", "turkey biot, olive", [("turkey-biot", "medium-olive")]),
        ("thread", "8/0 olive", [("thread-polyester", "medium-olive")]),
        ("legs", "rubber legs, black", [("rubber-legs", "black")]),
        ("bead", "tungsten, copper", [("tungsten-bead", "copper")]),
        ("tail", "marabou, black", [("marabou", "black")]),
        # A list stays one, and so do things that a word joins.
        ("body", "peacock herl and red", [("peacock-herl", ""), ("rabbit-dubbing", "scarlet")]),
        ("wing", "white bucktail, red", [("bucktail", "white"), ("bucktail", "scarlet")]),
    ],
)
def test_a_colour_after_a_comma_is_that_of_the_stuff_before_it(
    name: str, words: str, means: list[Pair]
) -> None:
    (choice,) = choices(read(f"{name}: {words}", style="nymph" if name != "wing" else None), name)
    assert [one for one, _ in choice] == [one for one, _ in means]
    assert all(not wanted or found == wanted for (_, found), (_, wanted) in
               zip(choice, means, strict=True))  # fmt: skip


@pytest.mark.parametrize(
    ("name", "words"),
    [("rib", "chartreuse zzwire"), ("thorax", "red zzcone worm"), ("legs", "black zzmop")],
)
def test_no_custom_stands_in_for_a_word_that_is_not_known(name: str, words: str) -> None:
    reading = read(f"{name}: {words}", "body: yellow floss", style="nymph")
    assert any(one.why.endswith("is not a word known here") for one in reading.unread)
    for found in [one for one in reading.parts if one.part == name]:
        assert found.confidence <= 0.5
        assert not any("custom" in one.says for one in found.choices[0].ingredients[0].inferences)


def test_a_hook_without_a_barb_is_never_one_with_it() -> None:
    assert choices(read("Hook: barbless dry 14"), "hook") == [[("hook-barbless", "hook-bronze")]]
    assert choices(read("Hook: barbless jig 14"), "hook")[0][0][0] == "hook-jig-barbless"
    streamer = read("Hook: barbless streamer 6", "Body: yellow floss")
    assert [one.why for one in streamer.unread] == ["no streamer hook without a barb is known here"]
