"""Search in a box by words: "do I own something like this, and where?"

Words come in, in any spelling, number and trade name, with a colour, a part of a fly or a size
where it matters; the items that match come out, best first. A near match says why it is no more.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from variants.model import Box, Colour, Item, Material, PartKind
from variants.reading.words import Glossary, Kind, Sense, phrase_of, tokenize
from variants.rulebook import Rulebook, colour_difference

#: Likeness, 0 to 100, that two words need to pass for one, misspelt.
_ALIKE = 80
#: Shorter words are alike too easily.
_SHORTEST = 4
#: Words that are looked for together at most.
_MOST_TOGETHER = 5
#: What a word of the table, of the item's own name, of its place or note counts for.
_BY_NAME, _BY_TABLE, _BY_PLACE = 100, 95, 70
#: A shade this near a colour asked for by name is one that "comes near" it.
_NEAR_SHADE = 10.0
_MEANT = (Kind.MATERIAL, Kind.STUFF, Kind.COLOUR)
_SAYS_NOTHING = frozenset({"a", "an", "the", "of", "for", "in", "and", "with", "some", "my", ","})


@dataclass(frozen=True, slots=True)
class ItemQuery:
    """What to search for; what is not stated does not matter.

    Attributes
    ----------
    words : str
    material : Material or None
    colour : Colour or None
    within : float
        How far in CIEDE2000 a shade may stand from the colour.
    part : PartKind or None
        What it should be able to be on a fly.
    size : int or None
        A hook size that it should suit.
    """

    words: str = ""
    material: Material | None = None
    colour: Colour | None = None
    within: float = 6.0
    part: PartKind | None = None
    size: int | None = None


@dataclass(frozen=True, slots=True)
class ItemMatch:
    """One item that matches.

    Attributes
    ----------
    item : Item
    score : float
        0 to 100: how well the words fit.
    apart : float or None
        How far its shade stands from the colour asked for, in CIEDE2000.
    why : tuple of str
        What makes it no more than near; empty where it is what was asked for.
    """

    item: Item
    score: float
    apart: float | None = None
    why: tuple[str, ...] = ()


class ItemSearch:
    """Searches a box.

    Parameters
    ----------
    rulebook : Rulebook
    glossary : Glossary
        The words of the trade, with spellings and usual misprints.
    """

    def __init__(self, rulebook: Rulebook, glossary: Glossary) -> None:
        self.rulebook = rulebook
        self.glossary = glossary

    def find(self, box: Box, query: ItemQuery) -> list[ItemMatch]:
        """Return the items that match a query, the exact matches first, then the near ones."""
        asked = self._parse_query(query.words)
        found = self._match_all(box, query, asked)
        if not found and len(asked) > 1:
            # Nothing matches all the words: what matches most of them comes near.
            found = self._match_all(box, query, asked, lenient=True)
            most = max((one.score for one in found), default=0.0)
            found = [one for one in found if one.score >= most]
        return sorted(
            found,
            key=lambda one: (
                len(one.why) > 0,
                one.item.is_gone,
                -round(one.score),
                one.apart or 0.0,
                one.item.id,
            ),
        )

    def _match_all(
        self, box: Box, query: ItemQuery, asked: Sequence[_Phrase], *, lenient: bool = False
    ) -> list[ItemMatch]:
        return [
            match
            for item in box.items
            if (match := self._match(item, query, asked, lenient)) is not None
        ]

    def suits(self, item: Item, size: int) -> bool:
        """Tell whether an item suits a hook size; what states no size suits all."""
        if item.sizes is not None:
            return size in item.sizes
        if item.length_mm is not None and "hackle" in item.material.functions:
            query = self.rulebook.gauge.get(size)
            return query is None or item.length_mm[0] <= query <= item.length_mm[1]
        return "hook" not in item.material.functions

    def _match(
        self, item: Item, query: ItemQuery, asked: Sequence[_Phrase], lenient: bool
    ) -> ItemMatch | None:
        if query.part and not item.material.functions & query.part.functions:
            return None
        if query.size is not None and not self.suits(item, query.size):
            return None
        why: list[str] = []
        apart = None
        if query.colour is not None:
            apart = _difference(query.colour, item.colour)
            if apart is None or apart > query.within:
                return None
        if query.material is not None and item.material.id != query.material.id:
            if item.material.kind != query.material.kind:
                return None
            why.append(f"{item.material.name}, not {query.material.name}")
        score = 100.0
        if asked:
            told = _ItemWords.of(item, self.glossary)
            fits = [self._fit(phrase, item, told) for phrase in asked]
            missed = [phrase for phrase, fit in zip(asked, fits, strict=True) if not fit.score]
            if missed and (not lenient or len(missed) == len(fits)):
                return None
            why += [f"nothing about “{' '.join(phrase.words)}”" for phrase in missed]
            score = sum(fit.score for fit in fits) / len(fits)
            why += [fit.why for fit in fits if fit.why]
        return ItemMatch(item, score, apart, tuple(why))

    def _parse_query(self, words: str) -> tuple[_Phrase, ...]:
        """Return the phrases that a text names, each with what the trade means by it."""
        lexicon = self.glossary.lexicon
        asked = [token.word for token in lexicon.spell_tokens(tokenize(words[:200]))]
        found: list[_Phrase] = []
        start = 0
        while start < len(asked):
            for length in range(min(_MOST_TOGETHER, len(asked) - start), 0, -1):
                phrase = tuple(asked[start : start + length])
                senses = self._meant(phrase)
                if senses or length == 1:
                    break
            if senses or not set(phrase) <= _SAYS_NOTHING:
                found.append(_Phrase(phrase, senses))
            start += length
        return tuple(found)

    def _meant(self, phrase: tuple[str, ...]) -> tuple[Sense, ...]:
        """Return what the trade means by a phrase: colours, and stuffs of that very name."""
        lexicon = self.glossary.lexicon
        named = [Sense(Kind.MATERIAL, one) for one in lexicon.materials_named(phrase)]
        told = [sense for sense in lexicon.senses.get(phrase, ()) if sense.kind in _MEANT]
        return (*named, *told)

    def _fit(self, phrase: _Phrase, item: Item, told: _ItemWords) -> _Fit:
        """Return how well a phrase fits an item: by what it means, by its words, by its shade."""
        best = _Fit(told.by_words(phrase.words))
        for sense in phrase.senses:
            is_colour = sense.kind is Kind.COLOUR
            means = item.colour.id if is_colour and item.colour else item.material.id
            if sense.gives == means and best.score < _BY_TABLE:
                best = _Fit(_BY_TABLE)
        if best.score:
            return best
        for colour in phrase.colours(self.glossary):
            apart = _difference(colour, item.colour)
            if apart is not None and apart <= _NEAR_SHADE:
                name = item.colour.name if item.colour else ""
                return _Fit(_BY_PLACE - apart, f"{name}, dE {apart:.0f} from {colour.name}")
        return best


class DuplicateIndex:
    """The items of a box by what they are, to find duplicates of another."""

    def __init__(self, box: Box | None) -> None:
        self._items: dict[tuple[object, ...], list[Item]] = {}
        for item in box.items if box else ():
            self._items.setdefault(_identity(item), []).append(item)

    def find(self, item: Item) -> list[Item]:
        """Return the items that are the same stuff, in colour, size and measure, by other names."""
        return [other for other in self._items.get(_identity(item), []) if other.id != item.id]


@dataclass(frozen=True, slots=True)
class _Fit:
    score: float
    why: str = ""


@dataclass(frozen=True, slots=True)
class _Phrase:
    """Words that are looked for together, with what they may mean."""

    words: tuple[str, ...]
    senses: tuple[Sense, ...]

    def colours(self, glossary: Glossary) -> list[Colour]:
        """Return the colours that it may mean."""
        ids = [sense.gives for sense in self.senses if sense.kind is Kind.COLOUR]
        return [glossary.trade.colours[one] for one in dict.fromkeys(ids)]


@dataclass(frozen=True)
class _ItemWords:
    """All words that tell of an item, by how much each counts."""

    words: tuple[tuple[frozenset[str], int], ...]

    @classmethod
    def of(cls, item: Item, glossary: Glossary) -> _ItemWords:
        """Gather an item's words as the trade spells them."""
        colour = item.colour
        named = [item.id]
        table = [item.material.name, *item.material.also, item.material.kind]
        table += [item.material.comes_from]
        table += [colour.name, *colour.also, colour.family] if colour else []
        place = [item.place, item.note, item.side]
        return cls(
            (
                (_words(named, glossary), _BY_NAME),
                (_words(table, glossary), _BY_TABLE),
                (_words(place, glossary), _BY_PLACE),
            )
        )

    def by_words(self, words: Iterable[str]) -> float:
        """Return how well words fit, each with its nearest; 0 where one fits nowhere."""
        scores = [self._one(word) for word in words if word not in _SAYS_NOTHING]
        return sum(scores) / len(scores) if scores and all(scores) else 0.0

    def _one(self, word: str) -> float:
        for known, counts in self.words:
            if word in known:
                return float(counts)
        if len(word) < _SHORTEST:
            return 0.0
        return max(
            (
                counts * likeness / 100.0
                for known, counts in self.words
                for likeness in [max((_likeness(word, one) for one in known), default=0.0)]
                if likeness
            ),
            default=0.0,
        )


def _words(texts: Iterable[str], glossary: Glossary) -> frozenset[str]:
    return frozenset(word for text in texts for word in _normalize_words(text, glossary))


def _normalize_words(text: str, glossary: Glossary) -> list[str]:
    return list(glossary.lexicon.spell(phrase_of(text)))


@lru_cache(maxsize=65536)
def _likeness(word: str, known: str) -> float:
    """Return how like a misspelt word is, 0 to 100; 0 for another word."""
    from rapidfuzz import fuzz

    if len(known) < _SHORTEST:
        return 0.0
    return float(fuzz.ratio(word, known, score_cutoff=_ALIKE))


def _difference(wanted: Colour, found: Colour | None) -> float | None:
    return colour_difference(wanted, found) if found is not None else None


def _identity(item: Item) -> tuple[object, ...]:
    return (
        *item.make,
        item.blend,
    )
