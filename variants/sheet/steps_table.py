"""The steps at the vice as ``rules/bench/steps.tsv`` tells them, ours and the user's."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.geometry.layout import BUILDS
from variants.model import Trade
from variants.reading import Faults, nearest, read_table, shown
from variants.reading.fields import Fields
from variants.rulebook import own_rules_folder

COLUMNS = ("style", "part", "stuff", "after", "says", "source")
ANY = "any"
#: The last step of every fly, which is no part of it.
FINISH = "finish"
#: What a step may name: the stuff, places and diameters in mm, and counts.
WORDS = (
    "stuff", "behind_eye", "rear", "front", "thin", "thick", "head", "turns", "turns_behind",
    "turns_front", "fibres", "strands", "pairs",
)  # fmt: skip
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_NAMED = re.compile(r"\{([^{}]*)\}")
_ONE = re.compile(r"\b(1 (?:even )?(?:turn|fibre|strand|pair))s\b")


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of the table.

    Attributes
    ----------
    style, part, stuff : str
        Whose it is: ``stuff`` is a class or a way of building up; ``any`` for any of them.
    after : tuple of str
        Parts after whose steps it is taken, where the fly has them.
    says, source : str
    """

    style: str
    part: str
    stuff: str
    after: tuple[str, ...]
    says: str
    source: str

    def told(self, words: Mapping[str, str]) -> str:
        """Return the sentence with its words filled in; what lacks one in brackets is left out.

        Examples
        --------
        >>> row = StepRow("any", "tail", "any", (), "Tie in {stuff}[, {fibres} fibres].", "")
        >>> row.told({"stuff": "hen", "fibres": "6"}), row.told({"stuff": "hen"})
        ('Tie in hen, 6 fibres.', 'Tie in hen.')
        >>> row.told({"stuff": "hen", "fibres": "1"})
        'Tie in hen, 1 fibre.'
        """

        def optional(found: re.Match[str]) -> str:
            named = _NAMED.findall(found[1])
            return found[1] if all(words.get(name) for name in named) else ""

        told = _NAMED.sub(lambda found: words.get(found[1], ""), _OPTIONAL.sub(optional, self.says))
        return _ONE.sub(r"\1", told)


@dataclass(frozen=True, slots=True)
class StepsTable:
    """All rows, by part; within a part in the order of the file."""

    rows: Mapping[str, tuple[StepRow, ...]]

    def of(self, style: str, part: str, kind: str, build: str) -> list[StepRow]:
        """Return the steps of a part: for each moment the row that speaks of it most closely.

        Parameters
        ----------
        style, part : str
        kind : str
            The class of what the part is made of.
        build : str
            How that class is built up.
        """
        closer = {ANY: 0, build: 1, kind: 2}
        best: dict[tuple[str, ...], tuple[tuple[bool, int], StepRow]] = {}
        for row in self.rows.get(part, ()):
            if row.style not in (ANY, style) or row.stuff not in closer:
                continue
            closeness = (row.style != ANY, closer[row.stuff])
            if row.after not in best or closeness >= best[row.after][0]:
                best[row.after] = closeness, row
        return [row for _, row in best.values()]


def load_steps(trade: Trade, extra: Sequence[str | Path] = ()) -> StepsTable:
    """Load our own steps, then those in the ``bench`` folders of the user's.

    A row of the user's replaces ours of the same style, part, stuff and after.

    Raises
    ------
    InputError
        With every fault of every table.

    Examples
    --------
    >>> from variants.rulebook import load_rulebook
    >>> table = load_steps(load_rulebook().trade)
    >>> [row.after for row in table.of("nymph", "rib", "wire", "wound")]
    [(), ('body', 'palmer')]
    """
    faults = Faults()
    rows: dict[tuple[str, str, str, tuple[str, ...]], StepRow] = {}
    for folder in (own_rules_folder(), *map(Path, extra)):
        path = folder / "bench" / "steps.tsv"
        if path.is_file():
            for row in read_table(path, COLUMNS, COLUMNS, faults, tabs=True):
                step = _row(row.fields(faults), trade)
                rows[step.style, step.part, step.stuff, step.after] = step
    faults.stop_if_any()
    by_part: dict[str, tuple[StepRow, ...]] = {}
    for step in rows.values():
        by_part[step.part] = (*by_part.get(step.part, ()), step)
    return StepsTable(by_part)


def _row(fields: Fields, trade: Trade) -> StepRow:
    parts = (*trade.parts, FINISH)
    classes = sorted({material.kind for material in trade.materials.values()} - {ANY, *BUILDS})
    row = StepRow(
        style=fields.choice("style", (ANY, *trade.styles), None),
        part=fields.choice("part", parts, None),
        stuff=fields.choice("stuff", (ANY, *BUILDS, *classes), None),
        after=fields.words("after"),
        says=fields.text("says", None),
        source=fields.text("source", None),
    )
    for part in row.after:
        _known(fields, "after", part, parts, "a part")
    for word in _NAMED.findall(row.says):
        _known(fields, "says", word, WORDS, "a word of a step")
    if re.search(r"[\[\]{}]", _NAMED.sub("", _OPTIONAL.sub(r"\1", row.says))):
        fields.wrong("says", "a bracket stands alone", "close it, and put none within another")
    fields.finish()
    return row


def _known(fields: Fields, field: str, word: str, known: Iterable[str], what: str) -> None:
    known = tuple(known)
    if word not in known:
        remedy = "write one of: " + ", ".join(known)
        fields.wrong(field, f"{shown(word)} is not {what}", remedy, nearest(word, known))
