"""What makes stuffs and colours of names that no row has, wherever a file may name them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from variants.model import Colour, Material, Trade, plain

if TYPE_CHECKING:
    from variants.reading.words import Lexicon

_LONGEST = 120


class WordComposer:
    """Composes names with the words of several rules folders, read when first asked.

    Parameters
    ----------
    folders : sequence of Path
    """

    def __init__(self, folders: Sequence[Path]) -> None:
        self._folders = tuple(folders)
        self._lexicon: Lexicon | None = None

    def __getstate__(self) -> dict[str, Any]:
        """Return what another process needs: the folders, not what was read of them."""
        return {"_folders": self._folders, "_lexicon": None}

    def material(self, name: str, trade: Trade) -> Material | None:
        """Return the stuff that a name composes, or None."""
        from variants.reading.words import compose_stuff, phrase_of

        return compose_stuff(phrase_of(plain(name)[:_LONGEST]), self._words(trade))

    def colour(self, name: str, trade: Trade) -> Colour | None:
        """Return the colour that a name composes, or None."""
        from variants.reading.words import composed_colour, phrase_of

        lexicon = self._words(trade)
        return composed_colour(lexicon.spell(phrase_of(plain(name)[:_LONGEST])), lexicon)

    def _words(self, trade: Trade) -> Lexicon:
        if self._lexicon is None:
            from variants.reading.words import read_lexicon

            self._lexicon = read_lexicon(self._folders, trade)
        return self._lexicon
