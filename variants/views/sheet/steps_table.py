"""The steps at the vice as ``rules/bench/steps.tsv`` tells them, ours and the user's."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.geometry import ANY, BARBED, BARBLESS, Stuffs, When, closest, read_when
from variants.model import BUILDS, FORMS, STANDS, Trade
from variants.reading import Faults, Fields, read_table
from variants.rulebook import own_rules_folder
from variants.text import nearest, shown

COLUMNS = ("style", "part", "step", "stuff", "when", "after", "before", "says", "source")
#: The last step of every fly, which is no part of it.
FINISH = "finish"
#: What a step may name: the stuff, places and diameters in mm, and counts.
WORDS = (
    "stuff", "behind_eye", "rear", "front", "thin", "thick", "head", "turns", "turns_behind",
    "turns_front", "fibres", "strands", "pairs", "wing_at", "post_at",
)  # fmt: skip
#: So many names are told of those that would do.
_MOST_NAMED = 40
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_NAMED = re.compile(r"\{([^{}]*)\}")
_ONE = re.compile(r"\b(1 (?:even )?(?:turn|fibre|strand|pair))s\b")


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of the table.

    Attributes
    ----------
    style, part, stuff : str
        Whose it is: ``stuff`` is a material, a class or a way of building up; ``any`` for any.
    step : str
        Which of the part's steps, such as ``tie in``.
    when : tuple of When
        What else has to be on the fly, or must not be.
    after, before : tuple of str
        Parts, or single steps such as ``palmer: wind``, that it follows or precedes, where the fly
        has them.
    says, source : str
    """

    style: str
    part: str
    step: str
    stuff: str
    when: tuple[When, ...]
    after: tuple[str, ...]
    before: tuple[str, ...]
    says: str
    source: str

    def told(self, words: Mapping[str, str]) -> str:
        """Return the sentence with its words filled in; what lacks one in brackets is left out.

        Examples
        --------
        >>> says = "Tie in {stuff}[, {fibres} fibres]."
        >>> row = StepRow("any", "tail", "tie in", "any", (), (), (), says, "")
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

    def of(
        self, styles: Sequence[str], parts: Sequence[str], words: Mapping[str, int], fly: Stuffs
    ) -> list[StepRow]:
        """Return the steps of a part, each by the row that speaks of it most closely.

        Parameters
        ----------
        styles, parts : sequence of str
            The lineage of the style and of the part: the first name of the part that has a row
            for the fly speaks for it.
        words : mapping of str to int
            What the part is made of, and how closely each of the words tells it.
        fly : mapping
            What fills the other parts.

        Notes
        -----
        What asks most of the fly beats the rest, then a style's row that of any style, then the row
        that tells the stuff most closely.
        """
        told = (self._of_one(styles, part, words, fly) for part in parts)
        return next(filter(None, told), [])

    def _of_one(
        self, styles: Sequence[str], part: str, words: Mapping[str, int], fly: Stuffs
    ) -> list[StepRow]:
        by_step: dict[str, list[tuple[str, tuple[When, ...], StepRow]]] = {}
        for row in sorted(self.rows.get(part, ()), key=lambda row: words.get(row.stuff, 0)):
            if row.stuff in words:
                by_step.setdefault(row.step, []).append((row.style, row.when, row))
        found = {step: closest(rows, styles, fly) for step, rows in by_step.items()}
        order = dict.fromkeys(row.step for row in self.rows.get(part, ()))
        return [taken for step in order if (taken := found.get(step)) is not None]


def load_steps(trade: Trade, extra: Sequence[str | Path] = ()) -> StepsTable:
    """Load our own steps, then those in the ``bench`` folders of the user's.

    A row of the user's replaces ours of the same style, part, step, stuff and ``when``.

    Raises
    ------
    InputError
        With every fault of every table.

    Examples
    --------
    >>> from variants.rulebook import load_rulebook
    >>> table = load_steps(load_rulebook().trade)
    >>> [row.step for row in table.of(["nymph"], ["rib"], {"any": 0, "wire": 2}, {})]
    ['tie in', 'wind']
    """
    faults = Faults()
    rows: dict[tuple[object, ...], StepRow] = {}
    for folder in (own_rules_folder(), *map(Path, extra)):
        path = folder / "bench" / "steps.tsv"
        if path.is_file():
            for row in read_table(path, COLUMNS, COLUMNS, faults, tabs=True):
                step = _row(row.fields(faults), trade)
                rows[step.style, step.part, step.step, step.stuff, step.when] = step
    faults.stop_if_any()
    by_part: dict[str, tuple[StepRow, ...]] = {}
    for step in rows.values():
        by_part[step.part] = (*by_part.get(step.part, ()), step)
    return StepsTable(by_part)


def _row(fields: Fields, trade: Trade) -> StepRow:
    parts = (*trade.parts, *STANDS, *FORMS, FINISH)
    classes = sorted({material.kind for material in trade.materials.values()} - {ANY, *BUILDS})
    stuffs = (*classes, *sorted(trade.materials.keys() - set(classes)))
    row = StepRow(
        style=fields.choice("style", (ANY, *trade.styles), None),
        part=fields.choice("part", parts, None),
        step=fields.text("step", None),
        stuff=fields.choice("stuff", (ANY, *BUILDS, *stuffs), None),
        when=read_when(fields),
        after=fields.words("after"),
        before=fields.words("before"),
        says=fields.text("says", None),
        source=fields.text("source", None),
    )
    for field, named in (("after", row.after), ("before", row.before)):
        for one in named:
            _known(fields, field, one.partition(":")[0].strip(), parts, "a part")
    for asked in row.when:
        _known(fields, "when", asked.part, parts, "a part")
        if asked.stuff:
            known_stuff = (*stuffs, BARBED, BARBLESS)
            _known(fields, "when", asked.stuff, known_stuff, "a class of stuff or a material")
    for word in _NAMED.findall(row.says):
        _known(fields, "says", word, WORDS, "a word of a step")
    if re.search(r"[\[\]{}]", _NAMED.sub("", _OPTIONAL.sub(r"\1", row.says))):
        fields.wrong("says", "a bracket stands alone", "close it, and put none within another")
    fields.finish()
    return row


def _known(fields: Fields, field: str, word: str, known: Iterable[str], what: str) -> None:
    known = tuple(known)
    if word not in known:
        remedy = "write one of: " + ", ".join(known[:_MOST_NAMED])
        fields.wrong(field, f"{shown(word)} is not {what}", remedy, nearest(word, known))
