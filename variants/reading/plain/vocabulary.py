"""Every phrase that is known, with all it can mean.

``rules/words.tsv`` (abbreviations, spellings, joining words, trade usage) and every name of the
trade's tables come in; a `Vocabulary` goes out, which finds the longest known phrase at a place in
a text.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from pathlib import Path

from variants.model import Material, Trade
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.plain.words import Phrase, Piece, Sense, Sort, Token, phrase_of, written
from variants.reading.tables import read_table

WORDS_COLUMNS = ("words", "kind", "gives", "parts", "sure", "says", "source")
#: Classes whose stuff may be called dubbing or fur after its own name.
DUBBINGS = ("fur dubbing", "synthetic dubbing")
_GENERAL: tuple[Phrase, ...] = (("dubbing",), ("fur",))
_COMMA = (Sense(Sort.COMMA, ""),)


class Vocabulary:
    """Every phrase that is known, with its senses; finds the longest at a place."""

    def __init__(self) -> None:
        self._senses: dict[Phrase, tuple[Sense, ...]] = {}
        self._spellings: dict[Phrase, Phrase] = {}
        self._hidden: set[Phrase] = set()
        self._longest = 1

    def add(self, phrase: Phrase, sense: Sense) -> None:
        """Add a meaning to a phrase; the first one added ranks first among equals."""
        if phrase:
            known = self._senses.get(phrase, ())
            if sense not in known:
                self._senses[phrase] = (*known, sense)
            self._longest = max(self._longest, len(phrase))

    def add_spelling(self, phrase: Phrase, instead: Phrase) -> None:
        """Add another spelling, an abbreviation or a usual misprint."""
        self._spellings[phrase] = instead
        self._longest = max(self._longest, len(phrase))

    def hide_marked_materials(self) -> None:
        """Find "mottled turkey" in a text as a marking and a material, not as a colour's name."""
        for phrase, senses in self._senses.items():
            marking, rest = self.senses(phrase[:1], Sort.MARKING), phrase[1:]
            marked = marking and self.senses(rest, Sort.MATERIAL)
            if marked and all(sense.sort is Sort.COLOUR for sense in senses):
                self._hidden.add(phrase)

    def senses(self, phrase: Phrase, sort: Sort | None = None) -> tuple[Sense, ...]:
        """Return the meanings of exactly this phrase."""
        found = self._senses.get(phrase, ())
        return tuple(sense for sense in found if sort is None or sense.sort is sort)

    def spelt(self, tokens: Sequence[Token]) -> tuple[Token, ...]:
        """Return words in full and in our spelling; what was written stays with the first."""
        found: list[Token] = []
        for start, length in self._walk(tokens, self._spellings.keys()):
            here = tokens[start : start + length]
            instead = self._spellings.get(tuple(token.word for token in here))
            if instead is None:
                found.extend(here)
                continue
            found.append(Token(written(here), instead[0]))
            found.extend(Token("", word) for word in instead[1:])
        return tuple(found)

    def pieces(self, tokens: Sequence[Token]) -> tuple[Piece, ...]:
        """Return the longest known phrases from left to right; unknown words stand alone."""
        tokens = self.spelt(tokens)
        found: list[Piece] = []
        findable = self._senses.keys() - self._hidden
        for start, length in self._walk(tokens, findable):
            here = tuple(tokens[start : start + length])
            senses = self._senses.get(tuple(token.word for token in here))
            if senses is None and here[0].word in "()":
                continue
            if senses is None and here[0].word == ",":
                senses = _COMMA
            found.append(Piece(here, senses or (Sense(Sort.UNKNOWN, here[0].written),)))
        return tuple(found)

    def _walk(
        self, tokens: Sequence[Token], known: AbstractSet[Phrase]
    ) -> Iterator[tuple[int, int]]:
        """Yield start and length of each longest phrase, or of one word that none begins."""
        words = tuple(token.word for token in tokens)
        start = 0
        while start < len(words):
            for length in range(min(self._longest, len(words) - start), 0, -1):
                if words[start : start + length] in known:
                    break
            else:
                length = 1
            yield start, length
            start += length


def read_vocabulary(folders: Sequence[Path], trade: Trade) -> Vocabulary:
    """Read ``words.tsv`` of several rules folders and add the names of the trade's tables.

    Raises
    ------
    InputError
        With every fault of the tables, a word that leads nowhere among them.
    """
    faults = Faults()
    vocabulary = Vocabulary()
    for folder in folders:
        path = folder / "words.tsv"
        if path.is_file():
            for row in read_table(path, WORDS_COLUMNS, ("words", "kind"), faults, tabs=True):
                _add_row(row.fields(faults), vocabulary, trade)
    faults.stop_if_any()
    for colour in trade.colours.values():
        _add_names(vocabulary, Sort.COLOUR, colour.id, (colour.name, *colour.also))
    for material in trade.materials.values():
        names = (name for name in material.also if not _hides_more(name, material, vocabulary))
        _add_names(vocabulary, Sort.MATERIAL, material.id, (material.name, *names))
    for material in trade.materials.values():
        if material.kind in DUBBINGS:
            _add_dubbing_names(vocabulary, material)
    for marking in trade.markings.values():
        _add_names(vocabulary, Sort.MARKING, marking.id, (marking.name,))
    vocabulary.hide_marked_materials()
    return vocabulary


def _add_row(fields: Fields, vocabulary: Vocabulary, trade: Trade) -> None:
    kinds = [sort.value for sort in Sort if sort not in (Sort.COMMA, Sort.UNKNOWN)]
    kind = fields.choice("kind", [*kinds, "spelling"], None)
    gives, says = fields.text("gives"), fields.text("says")
    source = fields.text("source", None)
    sure = fields.number("sure", 0, 1)
    parts = frozenset(fields.words("parts"))
    phrases = [phrase_of(words) for words in fields.words("words")]
    if not kind:
        return
    if kind == "spelling":
        for phrase in phrases:
            vocabulary.add_spelling(phrase, phrase_of(gives))
        return
    sort = Sort(kind)
    known = {
        Sort.COLOUR: trade.colours,
        Sort.MATERIAL: trade.materials,
        Sort.STUFF: trade.materials,
        Sort.MARKING: trade.markings,
        Sort.OPENS: trade.parts,
        Sort.CLOSES: trade.parts,
        Sort.MOVES: trade.parts,
    }.get(sort)
    if known is not None:
        fields.choice("gives", known, None)
    for part in sorted(parts - set(trade.parts)):
        fields.wrong("parts", f"'{part}' is no part that the tables know")
    sense = Sense(sort, gives, parts, 1.0 if sure is None else sure, says, source)
    for phrase in phrases:
        vocabulary.add(phrase, sense)


def _add_names(vocabulary: Vocabulary, sort: Sort, id: str, names: Iterable[str]) -> None:
    """Add an id and names; a name that holds "and" or "or" is left to the grammar."""
    for name in (id, *names):
        phrase = phrase_of(name)
        joined = any(
            sense.sort in (Sort.AND, Sort.OR)
            for word in phrase
            for sense in vocabulary.senses((word,))
        )
        if not joined:
            vocabulary.add(phrase, Sense(sort, id))


def _add_dubbing_names(vocabulary: Vocabulary, material: Material) -> None:
    """Add "hare's ear dubbing" and "hare's ear fur" for stuff that is called hare's ear."""
    for name in (material.name, *material.also):
        phrase = phrase_of(name)
        bare = phrase[:-1] if phrase[-1:] in _GENERAL else phrase
        for general in _GENERAL if bare else ():
            told = (*bare, *general)
            if not vocabulary.senses(told):
                vocabulary.add(told, Sense(Sort.MATERIAL, material.id))


def _hides_more(name: str, material: Material, vocabulary: Vocabulary) -> bool:
    """Tell whether a name is another name of the material with a colour or marking before it.

    Such a name would hide a colour that the material comes in, or a marking; without it, both are
    read.
    """
    phrase = phrase_of(name)
    others = {phrase_of(other) for other in (material.name, *material.also)}
    for cut in range(1, len(phrase)):
        before, after = phrase[:cut], phrase[cut:]
        known = vocabulary.senses(after)
        stuff = any(sense.sort is Sort.STUFF for sense in known)
        same = after in others or any(sense.gives == material.id for sense in known)
        if not same and not stuff:
            continue
        if any(vocabulary.senses((word,), Sort.MARKING) for word in before):
            return True
        colours = vocabulary.senses(before, Sort.COLOUR)
        if any(stuff or sense.gives in material.colours for sense in colours):
            return True
    return False
