"""What became of a box line by line, so that each text of it can be made again to the last byte."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from variants.box.texts import BoxText

#: Beyond so many lines that differ, they are told as one piece.
_MOST_COMPARED = 2000
#: From which line on, the lines that went, the lines that came.
Piece = tuple[int, tuple[str, ...], tuple[str, ...]]


def pieces_between(before: BoxText, after: BoxText) -> tuple[Piece, ...]:
    """Return what became of the lines from one text to another.

    >>> pieces_between(BoxText("a\\nb\\n"), BoxText("a\\nc\\n"))
    ((1, ('b\\n',), ('c\\n',)),)
    """
    old, new = before.lines, after.lines
    first = 0
    while first < min(len(old), len(new)) and old[first] == new[first]:
        first += 1
    last = 0
    while last < min(len(old), len(new)) - first and old[-1 - last] == new[-1 - last]:
        last += 1
    old, new = old[first : len(old) - last], new[first : len(new) - last]
    if not old and not new:
        return ()
    if len(old) == len(new):
        pairs = enumerate(zip(old, new, strict=True), start=first)
        return tuple((line, (went,), (came,)) for line, (went, came) in pairs if went != came)
    if max(len(old), len(new)) > _MOST_COMPARED:
        return ((first, old, new),)
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return tuple((first + a, old[a:b], new[c:d]) for tag, a, b, c, d in steps if tag != "equal")


def with_pieces(lines: Sequence[str], pieces: Sequence[Piece]) -> list[str]:
    """Return lines as they are after an entry; lines count as before it."""
    made = list(lines)
    for first, went, came in reversed(pieces):
        made[first : first + len(went)] = came
    return made
