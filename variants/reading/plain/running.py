"""Text as people write it down, unfolded into one part a line: ``Label: words``.

A part may be parted from its words by a colon, a dash, an equals sign or, as in old books, a comma;
several parts may run on in one line. Lines come in with their numbers; the same lines, or more of
them with the same numbers, go out in the one form that the layout knows. A line that fits no form
is let be.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

#: What tells whether words are a label.
IsLabel = Callable[[str], bool]
Line = tuple[int, str]

#: Signs between a label and its words, the surest first; a hyphen needs room on one side, so that
#: "wing-case" stays whole.
_SIGNS = re.compile(r":|=|\s[-–—]+\s?|[-–—]+\s|[–—]")
_COMMA = re.compile(r",\s")
#: Where a part may begin within a line: at its start, or after a full stop, semicolon or stroke.
_STOPS = re.compile(r"(?<=[.;|])\s+|\s+[|•]\s+|;")
_BULLET = re.compile(r"^\s*(?:[-*•–—]|\d{1,2}[.)])\s+(?=\D)")
#: A label is short: of more words than this it is a sentence.
_MOST_WORDS = 4
_LONGEST = 40


def unfolded(lines: Sequence[Line], is_label: IsLabel) -> list[Line]:
    """Return lines so that each holds at most one label, followed by a colon."""
    bare = [(number, _BULLET.sub("", line)) for number, line in lines]
    has_labels = sum(_cut(line, is_label, _SIGNS) is not None for _, line in bare)
    by_comma = not has_labels
    found: list[Line] = []
    for number, line in bare:
        pieces = list(_pieces(line, is_label, by_comma=by_comma))
        if not pieces or pieces == [line.strip()]:
            # An empty line parts dressings; where words stand may tell that they go on with the
            # line before.
            found.append((number, line))
        else:
            found.extend((number, piece) for piece in pieces)
    return found


def _pieces(line: str, is_label: IsLabel, *, by_comma: bool) -> Iterator[str]:
    """Yield what stands before the first label, then each label with its words."""
    waiting = ""
    for piece in _STOPS.split(line.strip()):
        if not piece or not piece.strip():
            continue
        piece = piece.strip()
        put = _put(piece, is_label, by_comma=by_comma)
        if put is None and not waiting:
            # A title may stand before the first part: "Reed Spider: Hook - 14".
            title, colon, rest = piece.partition(": ")
            put = _put(rest, is_label, by_comma=by_comma) if colon else None
            waiting = title if put else ""
        if put is None:
            waiting = f"{waiting} {piece}" if waiting else piece
            continue
        if waiting:
            yield _ended(waiting)
        waiting = put
    if waiting:
        yield _ended(waiting)


def _ended(text: str) -> str:
    """Return words without the stop after them; an abbreviation ends a line no better."""
    return text.rstrip(" ;|").removesuffix(".")


def _put(text: str, is_label: IsLabel, *, by_comma: bool) -> str | None:
    """Return a text that begins with a label in the form ``label: words``; None for another."""
    cut = _cut(text, is_label, _SIGNS)
    if cut is None and by_comma:
        cut = _cut(text, is_label, _COMMA) or _first_word(text, is_label)
    if cut is None:
        return None
    label, words = cut
    return f"{label}: {words}"


def _cut(text: str, is_label: IsLabel, signs: re.Pattern[str]) -> tuple[str, str] | None:
    sign = signs.search(text, 0, _LONGEST + 3)
    if sign is None:
        return None
    label = text[: sign.start()].strip(" *_")
    if not 0 < len(label.split()) <= _MOST_WORDS or not is_label(label):
        return None
    return label, text[sign.end() :].strip(" *_")


def _first_word(text: str, is_label: IsLabel) -> tuple[str, str] | None:
    """Cut ``Hook 14`` or ``Tail none``: a label written large, its words without a sign."""
    label, _, words = text.partition(" ")
    is_written_large = label[:1].isupper() and words[:1].islower() | words[:1].isdigit()
    return (label, words.strip()) if is_written_large and is_label(label) else None
