"""The trade, its words and its customs together: what reading plain words needs to know."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from variants.model import Material, Trade
from variants.reading.words.customs import Customs, read_customs
from variants.reading.words.lexicon import Lexicon, read_lexicon
from variants.reading.words.telling import Telling, read_tellings
from variants.reading.words.text import phrase_of
from variants.reading.words.things import ThingParser

#: Words by which a hook is one without a barb.
BARBLESS = frozenset({"barbless", "debarbed"})
_BARBLESS = "barbless"


@dataclass(frozen=True)
class Glossary:
    """What the reader of plain words asks.

    Attributes
    ----------
    trade : Trade
    lexicon : Lexicon
    customs : Customs
    tellings : tuple of Telling
    """

    trade: Trade
    lexicon: Lexicon
    customs: Customs
    tellings: tuple[Telling, ...] = ()

    @cached_property
    def parser(self) -> ThingParser:
        """Parses groups of words; it remembers what it has met."""
        return ThingParser(self.lexicon)

    def serves(self, material: Material, part: str) -> bool:
        """Tell whether a material can do a part's work."""
        return bool(material.functions & self.trade.parts[part].functions)

    def without_barb(self, hook: Material) -> Material | None:
        """Return the hook that is this one without its barb, or None where the tables know none."""
        if _BARBLESS in phrase_of(hook.name):
            return hook
        for name in (hook.name, *hook.also):
            for found in self.lexicon.materials_named((_BARBLESS, *phrase_of(name))):
                return self.trade.materials[found]
        return None


def load_glossary(folders: Sequence[Path], trade: Trade) -> Glossary:
    """Read the words, customs and signs of style of several rules folders for the trade they make.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    return Glossary(
        trade,
        read_lexicon(folders, trade),
        read_customs(folders, trade),
        read_tellings(folders, trade),
    )
