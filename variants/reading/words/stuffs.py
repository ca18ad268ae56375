"""Words to a stuff: the row whose name they make best, or one composed of what they tell.

A name is an animal, a place on it, a form, and words of grade; "hen pheasant wing" and "pheasant
hen's wing quill" name one thing. The words are weighed against every name that shares one of them.
What no row tells is composed: the words' own name, and all else from the row of that form.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from variants.model import Material
from variants.reading.words.composing import compose_stuff
from variants.reading.words.lexicon import Kind, Lexicon
from variants.reading.words.text import Phrase

#: How much a word of a name tells. An animal tells most; "feather" and "hair" next to nothing.
_TELLS_MOST, _TELLS, _TELLS_PLACE, _TELLS_FORM, _TELLS_LITTLE = 2.0, 1.5, 1.0, 0.7, 0.3
LITTLE = frozenset(
    (  # noqa: SIM905
        "feather fibre hair fur natural strand hackle quill slip dubbing any wound fly body the "
        "of and real pure fly's genuine thread hook"
    ).split()
)
_DYED = "any"
_SEXES = frozenset(("cock", "hen", "badger"))
#: A word asked for that a name lacks, and a word of the name that was not asked for.
_MISSING, _NOT_ASKED = 1.6, 0.45
_SERVES, _IN_ORDER, _OWN_NAME = 0.6, 0.55, 0.05
_ILL_FIT, _NO_WAY = -0.4, -2.5
#: What a colour's word is worth more in a name that is met whole; how much of a name has to be met.
_COLOUR_IN_NAME, _GOOD_PART = 0.7, 0.4
#: What a composed stuff is worth less than a row whose name has the same words.
_COMPOSED = 0.5
#: So many of the stuffs that words may name are kept.
_MOST = 10
#: Functions that only stuff made for them can have.
_OWN_STUFF = frozenset(("hook", "thread", "bead", "tube"))


@dataclass(frozen=True, slots=True)
class NamedStuff:
    """A stuff that words name.

    Attributes
    ----------
    material : Material
    score : float
        How well the words make one of its names; higher is better.
    name : tuple of str
        The name that was met.
    missing : tuple of str
        Words that its name lacks.
    is_composed : bool
        Whether no row has it.
    """

    material: Material
    score: float
    name: Phrase
    missing: Phrase = ()
    is_composed: bool = False


class Stuffs:
    """Finds and composes stuffs for a lexicon."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon
        self._trade = lexicon.trade
        self._ranked: dict[tuple[Phrase, str], tuple[NamedStuff, ...]] = {}

    def is_word(self, word: str) -> bool:
        """Tell whether a word is part of a stuff's name."""
        is_short = len(word) < 2 and not word.isdigit()
        return not is_short and (word in self._lexicon.by_word or bool(self._kinds(word)))

    def is_noun(self, word: str) -> bool:
        """Tell whether a word is an animal, a place on it or a form."""
        return bool(self._kinds(word) & {Kind.ANIMAL, Kind.PLACE, Kind.FORM})

    def is_animal(self, word: str) -> bool:
        """Tell whether a word is an animal's, and not only of its sex."""
        return word not in _SEXES and Kind.ANIMAL in self._kinds(word)

    def rank(self, words: Phrase, part: str) -> tuple[NamedStuff, ...]:
        """Return the stuffs that words may name in a part, likeliest first."""
        key = (words, part)
        if key not in self._ranked:
            self._ranked[key] = tuple(self._rank(words, part))[:_MOST]
        return self._ranked[key]

    def _rank(self, words: Phrase, part: str) -> list[NamedStuff]:
        asked = frozenset(words)
        best: dict[str, NamedStuff] = {}
        index = self._lexicon.by_word
        candidates = {found for word in asked for found in index.get(word, ())}
        for material_id, name in candidates:
            shared = asked & set(name)
            if asked != set(name) and not self._is_named_by(shared, name):
                continue
            score = self._score(asked, words, material_id, name, part)
            old = best.get(material_id)
            if old is None or score > old.score:
                missing = tuple(word for word in words if word not in name)
                material = self._trade.materials[material_id]
                best[material_id] = NamedStuff(material, score, name, missing)
        # Of equals the one that is not dyed: it is meant where no colour is named.
        ranked = sorted(
            best.values(),
            key=lambda one: (-one.score, _DYED in one.material.colours, one.material.id),
        )
        composed = self._compose(words, part, ranked)
        return [composed, *ranked] if composed else ranked

    def _score(
        self, asked: frozenset[str], words: Phrase, material_id: str, name: Phrase, part: str
    ) -> float:
        material = self._trade.materials[material_id]
        named = set(name)
        score = sum(self.weigh(word) for word in asked & named)
        score -= _MISSING * sum(self.weigh(word) for word in asked - named)
        score -= _NOT_ASKED * sum(self.weigh(word) for word in named - asked)
        if part:
            score += self._fit(material, part)
        if name == words:
            score += _IN_ORDER * len(words)
            score += _COLOUR_IN_NAME * sum(self._is_usage(word) for word in words)
        if name == self._lexicon.names[material_id][0]:
            score += _OWN_NAME
        return score

    def _is_named_by(self, words: frozenset[str], name: Phrase) -> bool:
        """Tell whether some words of a name can stand for it.

        One has to be neither slight nor a mere colour, and they have to be a good part of it.
        """
        if not any(
            word not in LITTLE and not self._is_usage(word) and self._kinds(word) != {Kind.PLACE}
            for word in words
        ):
            return False
        told = sum(self.weigh(word) for word in words)
        return told >= _GOOD_PART * sum(self.weigh(word) for word in name)

    def _is_usage(self, word: str) -> bool:
        """Tell whether a word by itself is a colour, or says how a stuff is tied."""
        kinds = {sense.kind for sense in self._lexicon.senses.get((word,), ())}
        return bool(kinds) and kinds <= {
            Kind.COLOUR, Kind.SHADE, Kind.MARKING, Kind.NOTE, Kind.FILLER, Kind.GRADE, Kind.LABEL,
        }  # fmt: skip

    def _fit(self, material: Material, part: str) -> float:
        if self.serves(material, part):
            return _SERVES
        # Thread is no bead, and a hook is nothing else.
        kind = self._trade.parts.get(part)
        own = bool(kind and kind.functions & _OWN_STUFF)
        if material.kind == "hook":
            return 2 * _NO_WAY
        return _NO_WAY if own else _ILL_FIT

    def serves(self, material: Material, part: str) -> bool:
        """Tell whether a material can do a part's work."""
        kind = self._trade.parts.get(part)
        return kind is not None and bool(material.functions & kind.functions)

    def weigh(self, word: str) -> float:
        """Return how much a word tells of a stuff."""
        if word in LITTLE:
            return _TELLS_LITTLE
        kinds = self._kinds(word)
        if Kind.ANIMAL in kinds:
            return _TELLS_MOST
        if Kind.PLACE in kinds:
            return _TELLS_PLACE
        if Kind.FORM in kinds or Kind.COLOUR in kinds or Kind.SHADE in kinds:
            return _TELLS_FORM
        return _TELLS

    def _kinds(self, word: str) -> set[Kind]:
        return {sense.kind for sense in self._lexicon.senses.get((word,), ())} & {
            Kind.ANIMAL, Kind.PLACE, Kind.FORM, Kind.GRADE, Kind.COLOUR, Kind.SHADE,
        }  # fmt: skip

    def _compose(self, words: Phrase, part: str, ranked: Sequence[NamedStuff]) -> NamedStuff | None:
        """Return a stuff made of the words, where no row has their animal, place or form."""
        best = ranked[0] if ranked else None
        if best is not None and not any(self._tells(word) for word in best.missing):
            return None
        material = compose_stuff(words, self._lexicon)
        if material is None or (part and not self.serves(material, part)):
            return None
        score = sum(map(self.weigh, words)) + (_SERVES if part else 0.0) - _COMPOSED
        return NamedStuff(material, score, words, (), is_composed=True)

    def _tells(self, word: str) -> bool:
        return word not in LITTLE and bool(
            self._kinds(word) & {Kind.ANIMAL, Kind.PLACE, Kind.FORM, Kind.GRADE}
        )
