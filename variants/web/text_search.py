"""What fits the words that a reader looks for, and what comes near where nothing fits."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeVar

from variants.model import plain

Thing = TypeVar("Thing")
#: Likeness, 0 to 100, that two words need to pass for one, misspelt.
_ALIKE = 80
#: Shorter words are alike too easily.
_SHORTEST = 4


def find(words: str, things: Iterable[tuple[Thing, str]]) -> tuple[list[Thing], bool]:
    """Return the things in whose text all the words stand, and whether that is so to the letter.

    Apostrophes don't matter. Where nothing fits, misspelt words pass for what they are like.

    Examples
    --------
    >>> book = {"A": "Ferryman's Dun", "B": "Partridge & Orange"}
    >>> told = [(key, name) for key, name in book.items()]
    >>> find("ferrymans", told), find("partrige", told), find("midge", told)
    ((['A'], True), (['B'], False), ([], True))
    """
    asked = _letters(words).split()
    told = [(thing, _letters(text)) for thing, text in things]
    found = [thing for thing, text in told if all(word in text for word in asked)]
    if found:
        return found, True
    near = [thing for thing, text in told if all(_is_near(word, text) for word in asked)]
    return near, not near


def _letters(text: str) -> str:
    return plain(re.sub("['’‘]", "", text))


def _is_near(word: str, text: str) -> bool:
    if word in text:
        return True
    if len(word) < _SHORTEST:
        return False
    from rapidfuzz import fuzz

    return any(fuzz.ratio(word, other, score_cutoff=_ALIKE) for other in re.findall(r"\w+", text))
