"""Text to words: as written, and as they are compared.

Accents, capitals, possessives and plurals do not tell stuffs apart; hyphens part words. What a word
means is not looked up here.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

_TOKEN = re.compile(r"\d+(?:[./]\d+)*[^\W\d_]*|[^\W\d_]+(?:['][^\W\d_]+)*|[^\s.:\"_]", re.UNICODE)
_HYPHEN = re.compile(r"(?<=\w)-(?=\w)")
_POSSESSIVE = re.compile(r"'s?$")
_DASHES = str.maketrans({"–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "’": "'", "‘": "'",
                         "“": '"', "”": '"', "″": '"', "′": "'", "×": "x", "½": "1/2",
                         "¼": "1/4", "¾": "3/4", "\u00a0": " "})  # fmt: skip
#: Words written short with a stroke.
_STROKES = (
    (re.compile(r"\bw/o\b", re.I), "without"), (re.compile(r"\bw/\s?", re.I), "with "),
    (re.compile(r"\bl/s\b", re.I), "long shank"), (re.compile(r"\bs/s\b", re.I), "stainless"),
    (re.compile(r"\bu/(?=wing)", re.I), "under"), (re.compile(r"\bo/(?=wing)", re.I), "over"),
)  # fmt: skip
#: Words that end in s and are no plurals.
_SINGULAR = frozenset(
    ("brass", "moss", "glass", "gas", "less", "ibis", "pass", "cross", "floss", "lens", "canvas")
)
Phrase = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Token:
    """One word or sign: as written, as compared, and where it begins in its text."""

    written: str
    word: str
    start: int


def normalize(text: str) -> str:
    """Return a text with plain dashes and quotes and without accents; letters keep their places.

    >>> normalize("Coq de León – 14”")
    'Coq de Leon - 14"'
    """
    text = text.translate(_DASHES)
    return "".join(_base_of(letter) for letter in text)


def write_out(text: str) -> str:
    """Return a text with words such as "w/" and "s/s" written out.

    >>> write_out("hk 6 s/s, tail w/ flash")
    'hk 6 stainless, tail with flash'
    """
    for short, full in _STROKES:
        text = short.sub(full, text)
    return text


def _base_of(letter: str) -> str:
    if letter.isascii():
        return letter
    base = unicodedata.normalize("NFKD", letter)[:1]
    return base if base.isascii() and base.isalpha() else letter


def compare_form(word: str) -> str:
    """Return a word as it is compared: lower case, singular, without a possessive.

    >>> [compare_form(word) for word in ("Hackles", "hare's", "Brass", "feet", "patches")]
    ['hackle', 'hare', 'brass', 'feet', 'patch']
    """
    word = _POSSESSIVE.sub("", word.lower())
    if len(word) <= 3 or not word.endswith("s") or word.endswith("ss") or word in _SINGULAR:
        return word
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    if word.endswith("ies") and len(word) > 4:
        return f"{word[:-3]}y" if word not in ("movies",) else word[:-1]
    return word[:-1]


def tokenize(text: str) -> tuple[Token, ...]:
    """Return the words and signs of a text; full stops and quotes are dropped."""
    return tuple(
        Token(text[found.start() : found.end()], compare_form(found[0]), found.start())
        for found in _TOKEN.finditer(_HYPHEN.sub(" ", normalize(text)))
    )


def phrase_of(name: str) -> Phrase:
    """Return a name as a phrase to look for: its words, without signs."""
    return tuple(token.word for token in tokenize(name) if token.word[:1].isalnum())


def join_written(tokens: Iterable[Token]) -> str:
    """Return words as they were written."""
    return " ".join(token.written for token in tokens).replace(" ,", ",")
