"""The words dressings are written in, and what each can mean.

A text comes in, its words go out: as written and as they are compared. A phrase may have several
senses; which one holds is decided where the part is known.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

_TOKEN = re.compile(r"\d+(?:[./]\d+)*[^\W\d_]*|[^\W\d_]+(?:['’][^\W\d_]+)*|[^\s.:\"“”–—\-_]")
_POSSESSIVE = re.compile(r"['’]s?$")
#: Words by which a hook is one without a barb.
BARBLESS = frozenset({"barbless", "debarbed"})


class Sort(Enum):
    """What a phrase can be in a dressing; the value is the word used in ``words.tsv``."""

    COLOUR = "colour"
    MATERIAL = "material"
    #: Stuff that is always named with a colour: wool, floss, fur.
    STUFF = "stuff"
    MARKING = "marking"
    SHADE = "shade"
    AND = "and"
    #: Joins as "and" does, but may stand inside a colour's name: "brown with white tip".
    WITH = "with"
    OR = "or"
    COMMA = "comma"
    #: Words after it belong to another part: "ribbed with …".
    OPENS = "opens"
    #: Words before it, back to the last joining word, belong to another part: "… cheeks".
    CLOSES = "closes"
    #: All that was said is tied as another part: "… tied palmer".
    MOVES = "moves"
    NONE = "none"
    #: Kept as a remark: "long", "two".
    NOTE = "note"
    #: Says nothing that the part's label has not said.
    FILLER = "filler"
    #: A line's label that is no part: name, style, sizes.
    LABEL = "label"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Sense:
    """One meaning of a phrase.

    Attributes
    ----------
    sort : Sort
    gives : str
        Id of the colour, material, marking or part; or the word that it stands for.
    parts : frozenset of str
        Parts in which the phrase means this; empty for all.
    sure : float
        0 to 1: how far the words alone settle it.
    says, source : str
        Why, where that is not plain; who says so.
    """

    sort: Sort
    gives: str
    parts: frozenset[str] = frozenset()
    sure: float = 1.0
    says: str = ""
    source: str = ""


Phrase = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Token:
    """One word: as written, and as it is compared."""

    written: str
    word: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A phrase found in a text, with all its senses."""

    tokens: tuple[Token, ...]
    senses: tuple[Sense, ...]

    @property
    def written(self) -> str:
        """The words as the author wrote them."""
        return written(self.tokens)

    @property
    def phrase(self) -> Phrase:
        """The words as they are compared."""
        return tuple(token.word for token in self.tokens)

    def has(self, *sorts: Sort) -> bool:
        """Tell whether one of the senses is of these sorts."""
        return any(sense.sort in sorts for sense in self.senses)


def written(tokens: Iterable[Token]) -> str:
    """Return words as they were written; one that a spelling made several stands once."""
    shown: list[str] = []
    for token in tokens:
        if token.written:
            shown.append(token.written)
    return " ".join(shown).replace(" ,", ",")


def comparable(word: str) -> str:
    """Return a word as it is compared: lower case, singular, without a possessive.

    >>> [comparable(word) for word in ("Hackles", "hare's", "moss", "Brass")]
    ['hackle', 'hare', 'moss', 'brass']
    """
    word = _POSSESSIVE.sub("", word.lower())
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def tokens_of(text: str) -> tuple[Token, ...]:
    """Return the words and joining signs of a text; hyphens part words, full stops are dropped."""
    return tuple(Token(found, comparable(found)) for found in _TOKEN.findall(text))


def phrase_of(name: str) -> Phrase:
    """Return a name of a table as a phrase to look for."""
    return tuple(token.word for token in tokens_of(name) if token.word not in ",()")
