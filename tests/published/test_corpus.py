"""The 1940 handbook: nearly all of it is read, and what a tyer checked by hand is read so."""

import pytest

from tests.corpus.measure import LATER, compare, is_read, readings
from variants.reading import TomlDocument, parse_dressing
from variants.reading.words import dressing_text
from variants.rulebook import load_rulebook

GREGG = pytest.mark.source("gregg-1940", "table of dressings, p. 69 and after")


@GREGG
def test_at_least_97_of_100_dressings_are_read_with_every_part_mapped() -> None:
    read = sum(map(is_read, readings()))
    assert len(readings()) == 217
    assert read / 217 >= 0.97


@GREGG
def test_the_forty_checked_by_hand_are_read_as_the_tyer_reads_them() -> None:
    compared = compare()
    assert len(compared) == 40
    assert {entry: parts for entry, parts in compared.items() if parts} == {}


@GREGG
def test_forty_more_drawn_later_are_read_nearly_all_as_the_tyer_reads_them() -> None:
    compared = compare(LATER)
    assert len(compared) == 40
    # "Lt. Green" of a body: the tables give the name to insect green, the tyer took a paler one.
    assert {entry: parts for entry, parts in compared.items() if parts} == {51: ["body"]}


@GREGG
def test_an_entry_that_says_nothing_is_no_dressing() -> None:
    silent = [one for one in readings() if one.name == "Orange Tag"]
    assert [one.dressing for one in silent] == [None]
    assert "says nothing" in silent[0].unread[0].why


@GREGG
def test_what_is_not_understood_is_told_with_its_line() -> None:
    for reading in readings():
        assert all(one.line and one.words and one.why for one in reading.unread)
        assert is_read(reading) or reading.confidence < 1.0


@GREGG
def test_what_was_read_can_be_written_and_read_back() -> None:
    trade = load_rulebook().trade
    for reading in readings():
        if reading.dressing is None:
            continue
        text = dressing_text(reading.dressing, trade)
        back = parse_dressing(TomlDocument(text, "back.toml"), trade)
        assert back == reading.dressing
