"""The error messages of the standard TOML parser, in words for people who tie flies.

A message comes in; what is wrong and what would be right goes out. The syntax tree, in which lines
are looked up, could not say it: its error node spans the whole line whatever is wrong in it, and it
accepts a second pair on a line, a date that no calendar has and a number without end.
"""

from __future__ import annotations

import re

_PLACE = re.compile(r"\(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)")
_TWICE = re.compile(r"overwrite|twice|Duplicate|mutate|redefine")
_ANYTHING = "is not valid TOML here"
_FORMS = 'write lines such as name = "text", size = 14, or [part.body]'
_TEXTS = 'put text in quotation marks: material = "hen neck"'
#: First match counts: a part of the message, what is wrong, what would be right.
_ERRORS: tuple[tuple[str, str, str], ...] = (
    ("Expected '=' after a key", "a name stands here without = and a value", _FORMS),
    ("Invalid value", "what stands here is no value", _TEXTS),
    ("Illegal character '\\n'", "a quotation mark is not closed on this line", _TEXTS),
    ("Unterminated string", "a quotation mark is never closed", _TEXTS),
    ("Illegal character", "a text holds a character that can't be seen", "type the text anew"),
    ("invalid character", "a comment holds a character that can't be seen", "type the line anew"),
    ("initial character for a key", "a name is missing here", "a table { … } stays on one line"),
    (
        "Expected newline or end",
        "something more stands behind the value",
        "begin a new line for it",
    ),
    ("Unclosed array", "a list [ … ] is not closed", "put commas between values and ] at the end"),
    ("Unclosed inline table", "a table { … } is not closed", "put } at the end of the line"),
    ("at the end of a", "the name of a table is not closed", "write [part.body]"),
    ("Invalid statement", "a line begins with neither a name nor [", _FORMS),
    ("Unescaped", "a backslash in a text begins nothing that is known", "write it twice"),
    ("Invalid hex value", "a backslash in a text begins nothing that is known", "write it twice"),
    ("Unicode scalar", "a text holds a character that does not exist", "type the text anew"),
    ("Invalid date", "a date that no calendar has", _TEXTS),
    ("Expected", "the text is not closed", _TEXTS),
    ("digits", "a number has too many digits", "write a shorter number"),
)


def find_position(message: str, text: str) -> tuple[int, int]:
    """Return the line and the column of an error message; column 0 where it has none."""
    place = _PLACE.search(message)
    if place and place[1]:
        return int(place[1]), int(place[2])
    if place is None:
        return _long_number_line(text), 0
    lines = text.rstrip().split("\n")
    return len(lines), len(lines[-1]) + 1


def _long_number_line(text: str) -> int:
    match = re.search(r"[0-9_]{4000}", text)
    return text.count("\n", 0, match.start()) + 1 if match else 1


def explain_repetition(message: str) -> tuple[str, str] | None:
    """Return what is wrong and what would be right where a key or a table is repeated, or None."""
    if not _TWICE.search(message):
        return None
    return "a name or a table is given twice", "keep one of the two"


def explain_error(message: str) -> tuple[str, str]:
    """Return what is wrong and what would be right for any other error."""
    for words, problem, remedy in _ERRORS:
        if words in message:
            return problem, remedy
    return _ANYTHING, _FORMS
