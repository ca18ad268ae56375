"""TOML that is none: told in a tyer's words, with the line."""

from __future__ import annotations

import re

import pytest

from tests.build import complaint
from variants.reading import TomlDocument

FORMS = 'write lines such as name = "text", size = 14, or [part.body]'
TEXTS = 'put text in quotation marks: material = "hen neck"'


@pytest.mark.parametrize(
    ("line", "said", "help_line"),
    [
        ("material", "a name stands here without = and a value", FORMS),
        ("material = hen neck", "what stands here is no value", TEXTS),
        ("material =", "what stands here is no value", TEXTS),
        ('material = "hen neck\n', "a quotation mark is not closed on this line", TEXTS),
        ("material = 'hen neck\n", "the text is not closed", TEXTS),
        ('material = """hen', "a quotation mark is never closed", TEXTS),
        ('material = "hen\x01"', "a text holds a character that can't be seen",
         "type the text anew"),
        ("# hen\x01", "a comment holds a character that can't be seen", "type the line anew"),
        ('material = "a" colour = "b"', "something more stands behind the value",
         "begin a new line for it"),
        ("sizes = [12, 14", "a list [ … ] is not closed",
         "put commas between values and ] at the end"),
        ("also = { material = 1", "a table { … } is not closed", "put } at the end of the line"),
        ("also = { material = 1,", "a name is missing here", "a table { … } stays on one line"),
        ("[part.hook", "the name of a table is not closed", "write [part.body]"),
        ("[[part.hook]", "the name of a table is not closed", "write [part.body]"),
        ("= 3", "a line begins with neither a name nor [", FORMS),
        (r'note = "a\b\c"', "a backslash in a text begins nothing that is known", "write it twice"),
        (r'note = "\u12"', "a backslash in a text begins nothing that is known", "write it twice"),
        (r'note = "\ud800"', "a text holds a character that does not exist", "type the text anew"),
        ("note = 2026-02-30", "a date that no calendar has", TEXTS),
        ("turns = " + "9" * 5000, "a number has too many digits", "write a shorter number"),
    ],
)  # fmt: skip
def test_what_is_no_toml_is_told_in_words(line: str, said: str, help_line: str) -> None:
    text = f'name = "Trial"\n\n{line}'
    told = complaint(lambda: TomlDocument(text, "fly.toml"))
    assert re.sub("(?<=toml:3):[0-9]+", "", told) == f"fly.toml:3: {said}\n  help: {help_line}"


@pytest.mark.parametrize(
    ("line", "column"),
    [
        ("material = hen neck", 12),
        ('material = "a" colour = "b"', 16),
        ('note = "a\\b\\c"', 14),
        ("= 3", 1),
        ("sizes = [12, 14", 16),
    ],
)
def test_the_place_in_the_line_is_told(line: str, column: int) -> None:
    told = complaint(lambda: TomlDocument(f'name = "Trial"\n{line}', "fly.toml"))
    assert told.startswith(f"fly.toml:2:{column}: ")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a = 1\n\na = 2\n", "fly.toml:3: a: is given twice, first in line 1"),
        ("[a]\nb = 1\n[c]\n[a]\n", "fly.toml:4: a: is given twice, first in line 1"),
        ('[a]\nb = 1\n"\\u0062" = 2\n', "fly.toml:3: a.b: is given twice, first in line 2"),
        ("a = { b = 1, b = 2 }\n", "fly.toml:1: a.b: is given twice, first in line 1"),
        ("[[a]]\nb = 1\n[[a]]\nb = 1\nb = 2\n", "fly.toml:5: a.b: is given twice, first in line 4"),
        ("a = 1\n[a.b]\n", "fly.toml:2: a name or a table is given twice"),
        ("a.b = 1\n[a]\n", "fly.toml:2: a name or a table is given twice"),
        ("[[a]]\n[a]\n", "fly.toml:2: a name or a table is given twice"),
    ],
)
def test_what_is_given_twice_is_told_with_both_lines(text: str, said: str) -> None:
    assert complaint(lambda: TomlDocument(text, "fly.toml")) == (
        f"{said}\n  help: keep one of the two"
    )


def test_nesting_below_the_limit_is_read() -> None:
    value = TomlDocument("a = " + "[" * 20 + "]" * 20, "fly.toml").value
    assert list(value) == ["a"]


def test_values_that_are_no_text_are_shown_as_toml_writes_them() -> None:
    from variants.text import shown

    value = TomlDocument("a = [true, 1.5, 2026-01-02, { b = 'c' }, 0x" + "f" * 99 + "]", "x").value
    assert shown(value["a"]).startswith("[true, 1.5, 2026-01-02, { b = 'c' }, 0xfff")


@pytest.mark.parametrize(
    "text",
    [
        "a = 1\n" + "b" + ".b" * 120 + " = 1",
        "c = { " + "b . " * 110 + "b = 1 }",
        "[a" + ".a" * 200 + "]",
    ],
)
def test_names_dotted_without_end_are_refused_before_they_are_read(text: str) -> None:
    assert "nest too deep" in complaint(lambda: TomlDocument(text, "fly.toml"))


def test_dots_in_a_note_are_no_names() -> None:
    note = "wait" + "." * 400 + " 1.5 mm, " * 100
    assert TomlDocument(f'note = "{note}"', "fly.toml").value == {"note": note}


def test_a_file_as_no_tyer_writes_it_is_refused_unread() -> None:
    told = complaint(lambda: TomlDocument("#" * 400_001, "fly.toml"))
    assert told == (
        "fly.toml: is 400001 letters long, as no file of this kind is\n"
        "  help: split it, or name another file"
    )
