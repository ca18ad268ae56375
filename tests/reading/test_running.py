"""Dressings as people jot them down: other signs, several parts in a line, no style stated."""

from __future__ import annotations

import re
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.reading.test_plain import glossary
from variants.reading import InputError
from variants.reading.words import Reading, read_plain
from variants.reading.words.layout import Layout
from variants.reading.words.text import compare_form


def read(text: str) -> Reading:
    (reading,) = read_plain(text, glossary())
    return reading


def stuff(reading: Reading) -> dict[str, str]:
    """Every part with the material and colour that is taken for it."""
    return {
        part.part: " + ".join(
            f"{one.ingredient.material.id} {one.ingredient.colour.id}"
            if one.ingredient.colour
            else one.ingredient.material.id
            for one in part.choices[0].ingredients
        )
        for part in reading.parts
    }


def told(text: str) -> list[str]:
    """What stands under which label, the labels as parts, and what stands under none."""
    (entry,) = Layout(glossary().lexicon).read(text, "notes.txt")
    cells = [f"{'+'.join(cell.labels)}: {cell.text}" for cell in entry.cells]
    return [*([entry.name] if entry.name else []), *cells, *(one for _, one in entry.unlabelled)]


@pytest.mark.parametrize(
    ("text", "means"),
    [
        ("Body: peacock herl", ["body: peacock herl"]),
        ("BODY - peacock herl", ["body: peacock herl"]),
        ("Wing-case – turkey", ["wing-case: turkey"]),
        ("• Body = herl", ["body: herl"]),
        ("1. Body: herl", ["body: herl"]),
        ("# Body: herl", ["body: herl"]),
        ("Body\nherl\nRib\ngold\nHackle\nhen", ["body: herl", "rib: gold", "hackle: hen"]),
        ("Abdomen/thorax: herl", ["body+thorax: herl"]),
        ("Rear half of body: herl", ["rear-body: herl"]),
        ("Treble: 10", ["hook: Treble 10"]),
        ("Hook: 14. Body: Lt. yellow floss. Rib: gold", ["hook: 14", "body: Lt. yellow floss",
                                                         "rib: gold"]),
        ("Weir Imp: Hook - 14; body - herl", ["Weir Imp", "hook: 14", "body: herl"]),
        ("Weir Imp. Hook: 14", ["Weir Imp", "hook: 14"]),
        ("Weir Imp\nhook 14, tail brown, body black floss", ["Weir Imp", "hook: 14", "tail: brown",
                                                             "body: black floss"]),
        ("Weir Imp\ncopper wire rib", ["Weir Imp", "rib: copper wire rib"]),
        ("Body, yellow silk, ribbed with wire. Hackle, dark snipe. Hook 14.",
         ["body: yellow silk", "rib: with wire", "hackle: dark snipe", "hook: 14"]),
        ("Body: herl\nWing, if any, of hair", ["body: herl", "wing: if any, of hair"]),
    ],
)  # fmt: skip
def test_every_layout_comes_to_labels_with_their_words(text: str, means: list[str]) -> None:
    assert told(text) == means


def test_an_empty_line_and_a_title_part_dressings() -> None:
    text = "Weir Imp\nBody: herl\n\nSluice\nBody: silk"
    assert [one.name for one in read_plain(text, glossary())] == ["Weir Imp", "Sluice"]


@given(st.lists(st.text("BodyRib wing:-.,;= 14", max_size=40), max_size=6))
def test_every_word_is_kept_somewhere(lines: list[str]) -> None:
    with suppress(InputError):
        entries = Layout(glossary().lexicon).read("\n".join(lines), "notes.txt")
        kept = " ".join(
            " ".join([entry.name, *(cell.text for cell in (*entry.cells, *entry.about.values()))])
            + " ".join(one for _, one in (*entry.unlabelled, *entry.remarks))
            for entry in entries
        )
        labels = {word for phrase in glossary().lexicon.labels for word in phrase}
        for word in re.findall(r"[A-Za-z]{2,}", " ".join(lines)):
            assert word in kept or compare_form(word) in labels


def test_a_nymph_as_a_magazine_gives_it_is_read_whole() -> None:
    reading = read(
        "Slack Water Nymph\n"
        "Hook: 2x long nymph hook, sizes 8-14\n"
        "Thread: Olive 6/0\n"
        "Weight: .015 lead-free wire\n"
        "Bead: 3mm gold tungsten\n"
        "Tail: Olive marabou, one shank length\n"
        "Rib: Fine copper wire, counter wrapped\n"
        "Body: Olive hare's ear dubbing, picked out\n"
        "Legs: Brown partridge (4-6)\n"
    )
    assert reading.unread == ()
    assert reading.dressing is not None
    assert reading.dressing.style == "nymph"
    assert reading.dressing.sizes == (8, 10, 12, 14)
    assert stuff(reading)["body"] == "hares-mask medium-olive"
    assert stuff(reading)["bead"] == "tungsten-bead gold"
    parts = {part.part: part for part in reading.parts}
    assert parts["weight"].thickness is not None
    assert parts["weight"].thickness.m_as("mm") == pytest.approx(0.381)
    assert str(parts["tail"].length) == "1.0 shank"
    assert "4-6" in parts["legs"].remarks


def test_running_words_of_an_old_book_are_read() -> None:
    reading = read("Body, yellow silk, ribbed with fine gold wire. Hackle, dark snipe. Hook 14.")
    assert reading.unread == ()
    assert stuff(reading) == {
        "hook": "hook-wet-standard hook-bronze",
        "body": "silk-floss yellow",
        "rib": "wire-fine-gold gold",
        "hackle": "snipe-hackle snipe",
    }


@pytest.mark.parametrize(
    ("text", "style"),
    [
        ("Post: white poly yarn\nHackle: grizzle", "parachute"),
        ("Tail: blue dun\nBody: quill\nHackle: dun\nHook: dry 16", "dry-upright"),
        ("Pond Palmer\nBody: peacock herl\nHackle: brown", "palmer"),
        ("Hook: dry 12\nBody: tan fur\nHackle: brown, palmered\nWing: elk hair", "down-wing"),
        ("Hook: wet 12\nBody: claret wool\nHackle: black\nWing: slate", "winged-wet"),
        ("Body: orange silk\nHackle: partridge", "soft-hackle"),
        ("Abdomen: pheasant tail\nThorax: peacock herl\nWing case: pheasant tail", "nymph"),
        ("Shuck: sparkle yarn\nBody: olive fur", "emerger"),
        ("Evening Spinner\nBody: claret fur\nWing: white poly yarn, spent", "spinner"),
        ("Hook: streamer 6\nBody: silver tinsel\nWing: white bucktail", "streamer"),
    ],
)
def test_the_style_is_told_from_title_hook_and_parts_and_said_to_be_so(
    text: str, style: str
) -> None:
    reading = read(text)
    assert reading.dressing is not None
    assert reading.dressing.style == style
    (told,) = [one for one in reading.inferences if one.what == "style"]
    assert told.says
    assert told.source
    assert told.sure < 1.0


def test_where_nothing_tells_the_style_it_stays_open() -> None:
    reading = read("Grey Thing\nBody: grey fur")
    assert reading.dressing is None
    assert any("the style is not stated" in one.why for one in reading.unread)


def test_a_body_of_tying_silk_has_the_colour_of_the_silk() -> None:
    reading = read("Pool Spider\nSilk: primrose\nBody: tying silk\nHackle: black hen")
    assert stuff(reading)["body"] == "thread-silk primrose"
