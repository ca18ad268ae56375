"""Which style a dressing is of where it does not say so: data with its source.

``rules/telling.tsv`` comes in. A row says: where these words stand in the title or on the hook's
line, or anywhere, none of those does, and it has these parts and lacks those, it is of this style.
The first row that holds is taken, and what it says is told, with how far it is to be trusted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from pathlib import Path

from variants.model import Style, Trade
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.tables import read_table
from variants.reading.words.text import Phrase, phrase_of

COLUMNS = ("title", "said", "unless", "parts", "without", "style", "sure", "says", "source")


@dataclass(frozen=True, slots=True)
class Telling:
    """One sign of a style.

    Attributes
    ----------
    title : tuple of phrases
        One of these stands in the title or on the hook's line; none: whatever stands there.
    said : tuple of phrases
        One of these stands anywhere.
    unless : tuple of phrases
        None of these stands anywhere.
    parts, without : frozenset of str
        Parts that the dressing has, and lacks.
    style : str
    sure : float
    says, source : str
    """

    title: tuple[Phrase, ...]
    said: tuple[Phrase, ...]
    unless: tuple[Phrase, ...]
    parts: frozenset[str]
    without: frozenset[str]
    style: str
    sure: float
    says: str
    source: str

    def holds(self, title: Phrase, said: Phrase, parts: AbstractSet[str]) -> bool:
        """Tell whether a dressing of these words and parts shows the sign."""
        if not self.parts <= parts or self.without & parts:
            return False
        if self.unless and _stands(self.unless, said):
            return False
        return _stands(self.title, title) and _stands(self.said, said)


def _stands(phrases: Sequence[Phrase], words: Phrase) -> bool:
    return not phrases or any(
        words[start : start + len(phrase)] == phrase
        for phrase in phrases
        for start in range(len(words) - len(phrase) + 1)
    )


def told_style(
    tellings: Sequence[Telling], title: str, said: Iterable[str], parts: AbstractSet[str]
) -> Telling | None:
    """Return the first sign that a dressing shows, or None.

    Parameters
    ----------
    tellings : sequence of Telling
    title : str
        The title and the hook's line.
    said : iterable of str
        The words of every part.
    parts : set of str
        Ids of the parts that are told.
    """
    heading, rest = phrase_of(title), phrase_of(" ".join((title, *said)))
    return next((one for one in tellings if one.holds(heading, rest, parts)), None)


def read_tellings(folders: Sequence[Path], trade: Trade) -> tuple[Telling, ...]:
    """Read the signs of several rules folders, the user's own before ours.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    faults = Faults()
    rows: list[Telling] = []
    for folder in reversed(folders):
        path = folder / "telling.tsv"
        if path.is_file():
            table = read_table(path, COLUMNS, ("style",), faults, tabs=True)
            rows.extend(_telling(row.fields(faults), trade) for row in table)
    faults.stop_if_any()
    told = {row.style for row in rows}
    named = [_by_name(style) for style in trade.styles.values() if style.kin]
    return (*(one for one in named if one.style not in told), *rows)


def _by_name(style: Style) -> Telling:
    """Return the sign of a style that is like another: its own name, which the other lacks."""
    names = tuple(phrase_of(name) for name in (style.name, *style.also))
    says = f"the title names the {style.name}"
    nobody: frozenset[str] = frozenset()
    return Telling(names, (), (), nobody, nobody, style.id, 0.9, says, style.source)


def _telling(fields: Fields, trade: Trade) -> Telling:
    parts, without = fields.words("parts"), fields.words("without")
    for field, names in (("parts", parts), ("without", without)):
        for name in names:
            if name not in trade.parts:
                fields.wrong(field, f"'{name}' is no part that the tables know")
    sure = fields.number("sure", 0, 1)
    return Telling(
        title=tuple(phrase_of(words) for words in fields.words("title")),
        said=tuple(phrase_of(words) for words in fields.words("said")),
        unless=tuple(phrase_of(words) for words in fields.words("unless")),
        parts=frozenset(parts),
        without=frozenset(without),
        style=fields.choice("style", trade.styles, None),
        sure=1.0 if sure is None else sure,
        says=fields.text("says", None),
        source=fields.text("source", None),
    )
