"""The trade, its words and its customs together: what reading plain words needs to know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from variants.model import Colour, Material, Trade
from variants.reading.plain.customs import Customs, read_customs
from variants.reading.plain.telling import Telling, read_tellings
from variants.reading.plain.vocabulary import Vocabulary, read_vocabulary
from variants.reading.plain.words import Phrase, Sense, Sort, phrase_of

#: When a phrase has several senses for a part, the order in which they are taken.
_ORDER = (
    Sort.OPENS, Sort.CLOSES, Sort.MOVES, Sort.AND, Sort.WITH, Sort.OR, Sort.COMMA, Sort.NONE,
    Sort.STUFF, Sort.MATERIAL, Sort.COLOUR, Sort.SHADE, Sort.MARKING, Sort.NOTE, Sort.FILLER,
    Sort.LABEL, Sort.UNKNOWN,
)  # fmt: skip
_BARBLESS = "barbless"
_RANK = {sort: rank for rank, sort in enumerate(_ORDER)}


@dataclass(frozen=True)
class Glossary:
    """What the reader of plain words asks.

    Attributes
    ----------
    trade : Trade
    vocabulary : Vocabulary
    customs : Customs
    tellings : tuple of Telling
    """

    trade: Trade
    vocabulary: Vocabulary
    customs: Customs
    tellings: tuple[Telling, ...] = ()

    def serves(self, material: Material, part: str) -> bool:
        """Tell whether a material can do a part's work."""
        return bool(material.functions & self.trade.parts[part].functions)

    def senses_in(self, senses: Sequence[Sense], part: str) -> tuple[Sense, ...]:
        """Return the senses that hold in a part, the likeliest first.

        A sense that the words table gives for this very part comes first; a material that can't
        serve the part comes after a colour of the same name.
        """
        fitting = [sense for sense in senses if not sense.parts or part in sense.parts]
        return tuple(sorted(fitting, key=lambda sense: self._rank(sense, part)))

    def named(self, phrase: Phrase, sort: Sort, part: str) -> str | None:
        """Return what exactly this phrase names in a part, or None."""
        senses = self.senses_in(self.vocabulary.senses(phrase, sort), part)
        return senses[0].gives if senses else None

    def _rank(self, sense: Sense, part: str) -> tuple[int, int]:
        rank = _RANK[sense.sort]
        by_name_only = sense.sort is Sort.MATERIAL and not sense.parts
        if by_name_only and not self.serves(self.trade.materials[sense.gives], part):
            rank = _RANK[Sort.SHADE]
        return (0 if sense.parts else 1, rank)

    def without_barb(self, hook: Material) -> Material | None:
        """Return the hook that is this one without its barb, or None where the tables know none."""
        if _BARBLESS in phrase_of(hook.name):
            return hook
        for name in (hook.name, *hook.also):
            for sense in self.vocabulary.senses((_BARBLESS, *phrase_of(name)), Sort.MATERIAL):
                return self.trade.materials[sense.gives]
        return None

    def compound(self, marking: str, colours: frozenset[str]) -> Colour | None:
        """Return the colour that carries these components in this marking, or None."""
        return self._compounds.get((marking, colours))

    @cached_property
    def labels(self) -> Mapping[Phrase, str]:
        """Parts by every name, as a line's label."""
        return {phrase_of(name): part.id for name, part in self.trade.part_names.items()}

    @cached_property
    def _compounds(self) -> Mapping[tuple[str, frozenset[str]], Colour]:
        compounds: dict[tuple[str, frozenset[str]], Colour] = {}
        for colour in self.trade.colours.values():
            if colour.components:
                key = (colour.marking, frozenset(colour.components))
                compounds.setdefault(key, colour)
        return compounds


def load_glossary(folders: Sequence[Path], trade: Trade) -> Glossary:
    """Read the words, customs and signs of style of several rules folders.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    return Glossary(
        trade,
        read_vocabulary(folders, trade),
        read_customs(folders, trade),
        read_tellings(folders, trade),
    )
