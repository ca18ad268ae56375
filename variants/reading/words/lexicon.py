"""Every word that is known, with its senses: one lexicon for dressings, lists and questions.

``rules/words.tsv`` (joining words, usage, animals, places, forms), ``rules/names.tsv`` (more names)
and every name of the trade's tables come in; a `Lexicon` goes out. It tells the senses of a phrase,
and the stuffs of which a word is part of a name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from pathlib import Path

from variants.model import Colour, Trade
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.tables import read_table
from variants.reading.words.text import Phrase, Token, phrase_of

WORDS_COLUMNS = ("words", "kind", "gives", "parts", "sure", "says", "source")
NAMES_COLUMNS = ("of", "id", "names", "use", "source")


#: Parts that are built as another: what words mean and custom takes there holds here.
BUILT_AS = {
    "rear-body": "body", "middle-body": "body", "front-body": "body", "rear-hackle": "hackle",
    "middle-hackle": "hackle", "front-hackle": "hackle", "shoulder-hackle": "hackle",
    "rear-rib": "rib", "front-rib": "rib", "counter-rib": "rib", "underwing": "wing",
    "overwing": "wing",
}  # fmt: skip


class Kind(Enum):
    """What a phrase can be; the value is the word used in ``words.tsv``."""

    COLOUR = "colour"
    MARKING = "marking"
    SHADE = "shade"
    #: A whole stuff by a short name that holds in some parts: "gold" of a rib.
    MATERIAL = "material"
    #: Stuff that is always named with a colour: wool, floss.
    STUFF = "stuff"
    ANIMAL = "animal"
    PLACE = "place"
    FORM = "form"
    GRADE = "grade"
    AND = "and"
    WITH = "with"
    OR = "or"
    OPENS = "opens"
    CLOSES = "closes"
    MOVES = "moves"
    NONE = "none"
    NOTE = "note"
    FILLER = "filler"
    LABEL = "label"


@dataclass(frozen=True, slots=True)
class Sense:
    """One meaning of a phrase.

    Attributes
    ----------
    kind : Kind
    gives : str
        Id of the colour, material, marking or part; or the word that it stands for.
    parts : frozenset of str
        Parts in which the phrase means this; empty for all.
    sure : float
        0 to 1: how far the words alone settle it.
    says, source : str
        Why, where that is not plain; who says so.
    """

    kind: Kind
    gives: str
    parts: frozenset[str] = frozenset()
    sure: float = 1.0
    says: str = ""
    source: str = ""

    def holds_in(self, part: str) -> bool:
        """Tell whether the phrase means this in a part."""
        return not self.parts or part in self.parts or BUILT_AS.get(part) in self.parts


@dataclass
class Lexicon:
    """Phrases with their senses, and names of stuff as bags of words."""

    trade: Trade
    senses: dict[Phrase, list[Sense]] = field(default_factory=dict)
    spellings: dict[Phrase, Phrase] = field(default_factory=dict)
    #: Names of each material, as phrases; the trade name first.
    names: dict[str, list[Phrase]] = field(default_factory=dict)

    def add(self, phrase: Phrase, sense: Sense) -> None:
        """Add a meaning to a phrase; the first one added ranks first among equals."""
        if phrase and sense not in self.senses.setdefault(phrase, []):
            self.senses[phrase].append(sense)

    def add_name(self, material: str, name: str) -> None:
        """Add a name to a material."""
        phrase = self.spell(phrase_of(name))
        if phrase and phrase not in self.names.setdefault(material, []):
            self.names[material].append(phrase)

    def spell(self, phrase: Phrase) -> Phrase:
        """Return a phrase in full and in our spelling."""
        spelt: list[str] = []
        for start, length in self._walk(phrase):
            spelt.extend(
                self.spellings.get(phrase[start : start + length], phrase[start : start + length])
            )
        return tuple(spelt)

    def spell_tokens(self, tokens: Sequence[Token]) -> tuple[Token, ...]:
        """Return words in full and in our spelling; what was written stays with the first."""
        words = tuple(token.word for token in tokens)
        spelt: list[Token] = []
        for start, length in self._walk(words):
            instead = self.spellings.get(words[start : start + length])
            here = tokens[start : start + length]
            if instead is None:
                spelt.extend(here)
                continue
            written = " ".join(token.written for token in here)
            spelt.append(Token(written, instead[0], here[0].start))
            spelt.extend(Token("", word, here[0].start) for word in instead[1:])
        return tuple(spelt)

    def _walk(self, words: Phrase) -> Iterator[tuple[int, int]]:
        start = 0
        while start < len(words):
            longest = min(self._longest_spelling, len(words) - start)
            length = next(
                (n for n in range(longest, 0, -1) if words[start : start + n] in self.spellings), 1
            )
            yield start, length
            start += length

    @cached_property
    def _longest_spelling(self) -> int:
        return max(map(len, self.spellings), default=1)

    @cached_property
    def _longest_by_word(self) -> Mapping[str, int]:
        longest: dict[str, int] = {}
        for phrase in self.senses:
            longest[phrase[0]] = max(longest.get(phrase[0], 0), len(phrase))
        return longest

    def longest_from(self, word: str) -> int:
        """Return how many words the longest phrase that begins with a word has; 0 for none."""
        return self._longest_by_word.get(word, 0)

    @cached_property
    def by_word(self) -> Mapping[str, frozenset[tuple[str, Phrase]]]:
        """Materials, each with the name, by every word of their names."""
        index: dict[str, set[tuple[str, Phrase]]] = {}
        for material, phrases in self.names.items():
            for phrase in phrases:
                for word in phrase:
                    index.setdefault(word, set()).add((material, phrase))
        return {word: frozenset(found) for word, found in index.items()}

    @cached_property
    def by_name(self) -> Mapping[Phrase, tuple[str, ...]]:
        """Materials by the whole of a name, those whose trade name it is first."""
        index: dict[Phrase, list[str]] = {}
        for rank in (True, False):
            for material, phrases in self.names.items():
                for place, phrase in enumerate(phrases):
                    if (place == 0) is rank and material not in index.setdefault(phrase, []):
                        index[phrase].append(material)
        return {phrase: tuple(found) for phrase, found in index.items()}

    @cached_property
    def compounds(self) -> Mapping[tuple[str, frozenset[str]], Colour]:
        """Colours by their marking and the colours that they are made of."""
        found: dict[tuple[str, frozenset[str]], Colour] = {}
        for colour in self.trade.colours.values():
            if colour.components:
                found.setdefault((colour.marking, frozenset(colour.components)), colour)
        return found

    def materials_named(self, phrase: Phrase) -> tuple[str, ...]:
        """Return the materials that have just this name."""
        return self.by_name.get(self.spell(phrase), ())

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word of every phrase and name: what a slip of the pen may have meant."""
        every = {word for phrase in self.senses for word in phrase}
        return frozenset(every | set(self.by_word))

    def senses_of(self, phrase: Phrase, part: str, *kinds: Kind) -> list[Sense]:
        """Return the meanings of a phrase that hold in a part, those meant for it first."""
        found = [
            sense
            for sense in self.senses.get(phrase, ())
            if sense.holds_in(part) and (not kinds or sense.kind in kinds)
        ]
        return sorted(found, key=lambda sense: not sense.parts)

    @cached_property
    def part_labels(self) -> Mapping[Phrase, str]:
        """Parts by their own names, as written and as spelt."""
        named = {phrase_of(name): part.id for name, part in self.trade.part_names.items()}
        return {self.spell(phrase): part for phrase, part in named.items()} | named

    @cached_property
    def labels(self) -> Mapping[Phrase, str]:
        """Parts, and what tells about the dressing, by every word for them."""
        labels = dict(self.part_labels)
        for phrase, senses in self.senses.items():
            for sense in senses:
                if sense.kind is Kind.LABEL:
                    labels[phrase] = sense.gives
        return labels


def read_lexicon(folders: Sequence[Path], trade: Trade) -> Lexicon:
    """Read the words of several rules folders and add the names of the trade's tables.

    Raises
    ------
    InputError
        With every fault of the tables, a word that leads nowhere among them.
    """
    faults = Faults()
    lexicon = Lexicon(trade)
    rows = [
        fields
        for name in ("words.tsv", "lexicon.tsv")
        for fields in _rows(folders, name, WORDS_COLUMNS, ("words", "kind"), faults)
    ]
    for fields in rows:
        if fields.text("kind") == "spelling":
            for words in fields.words("words"):
                lexicon.spellings[phrase_of(words)] = phrase_of(fields.text("gives"))
    for fields in rows:
        if fields.text("kind") != "spelling":
            _add_words(fields, lexicon)
    for material in trade.materials.values():
        for name in (material.name, *material.also, material.id.replace("-", " ")):
            lexicon.add_name(material.id, name)
    for colour in trade.colours.values():
        for name in (colour.name, *colour.also):
            lexicon.add(lexicon.spell(phrase_of(name)), Sense(Kind.COLOUR, colour.id))
    for marking in trade.markings.values():
        lexicon.add(phrase_of(marking.name), Sense(Kind.MARKING, marking.id))
    for fields in _rows(folders, "names.tsv", NAMES_COLUMNS, ("of", "id"), faults):
        _add_names(fields, lexicon)
    faults.stop_if_any()
    return lexicon


def _rows(
    folders: Sequence[Path], name: str, columns: Sequence[str], keys: Sequence[str], faults: Faults
) -> Iterator[Fields]:
    for folder in folders:
        if (folder / name).is_file():
            for row in read_table(folder / name, columns, keys, faults, tabs=True):
                yield row.fields(faults)


def _add_words(fields: Fields, lexicon: Lexicon) -> None:
    trade = lexicon.trade
    name = fields.choice("kind", [kind.value for kind in Kind], None)
    gives, says = fields.text("gives"), fields.text("says")
    source, sure = fields.text("source", None), fields.number("sure", 0, 1)
    parts = frozenset(fields.words("parts"))
    if not name:
        return
    kind = Kind(name)
    known: Iterable[str] | None = {
        Kind.COLOUR: trade.colours,
        Kind.MATERIAL: trade.materials,
        Kind.STUFF: trade.materials,
        Kind.FORM: trade.materials,
        Kind.MARKING: trade.markings,
        Kind.OPENS: trade.parts,
        Kind.CLOSES: trade.parts,
        Kind.MOVES: trade.parts,
    }.get(kind)
    if known is not None:
        fields.choice("gives", known, None)
    for part in sorted(parts - set(trade.parts)):
        fields.wrong("parts", f"'{part}' is no part that the tables know")
    sense = Sense(kind, gives, parts, 1.0 if sure is None else sure, says, source)
    for words in fields.words("words"):
        phrase = phrase_of(words) or tuple(words.strip())
        lexicon.add(phrase if kind is Kind.LABEL else lexicon.spell(phrase), sense)


def _add_names(fields: Fields, lexicon: Lexicon) -> None:
    of = fields.choice("of", ("material", "colour"), None)
    trade = lexicon.trade
    fields.text("source", None)
    if of == "material" and fields.choice("id", trade.materials, None):
        for name in fields.words("names"):
            lexicon.add_name(fields.text("id"), name)
    elif of == "colour" and fields.choice("id", trade.colours, None):
        for name in fields.words("names"):
            lexicon.add(lexicon.spell(phrase_of(name)), Sense(Kind.COLOUR, fields.text("id")))
