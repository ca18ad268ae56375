"""Plain text to entries: where a dressing begins, and which words stand under which label.

Three layouts are known: lines ``Label: words`` in any order under a title, or such parts running
on in a line; a table parted by tabs, one dressing a row; and seven lines in the handbook's order.
Which one it is shows in the text.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.result import Unread
from variants.reading.plain.running import unfolded
from variants.reading.plain.words import Sort, phrase_of, tokens_of
from variants.text import has_unseen, nearest, shown

#: The order of a handbook's table without a header: the name, then these parts.
HANDBOOK_PARTS = ("tag", "tail", "rib", "body", "hackle", "wing")
NAME, STYLE, SIZES, SOURCE, NOTE = LABELS = ("name", "style", "sizes", "source", "note")
_LONGEST_NAME = 120
#: What a terminal obeys or what turns text round on the screen; dressing files refuse it too.
_LAYOUTS = (
    "write a title and lines such as 'Body: yellow floss ribbed with gold', or a table parted by "
    "tabs: name, " + ", ".join(HANDBOOK_PARTS)
)


@dataclass(frozen=True, slots=True)
class Cell:
    """The words under one label."""

    labels: tuple[str, ...]
    text: str
    line: int


@dataclass(slots=True)
class Entry:
    """One dressing as it stands on the page, no word of its parts understood yet."""

    line: int
    name: str = ""
    about: dict[str, Cell] = field(default_factory=dict)
    cells: list[Cell] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)

    def put(self, labels: Sequence[str], text: str, line: int) -> None:
        """File words under their labels: a part's, or what they tell about the dressing."""
        parts = tuple(label for label in labels if label not in LABELS)
        for label in labels:
            if label in LABELS and label not in self.about:
                self.about[label] = Cell((label,), text, line)
            elif label in LABELS:
                self.unread.append(Unread(line, label, text, f"the {label} is given twice"))
        if parts:
            self.cells.append(Cell(parts, text, line))


def entries_of(text: str, glossary: Glossary, file: str) -> list[Entry]:
    """Return the entries of a text.

    Raises
    ------
    InputError
        When no layout fits, or a line holds what can't be seen.
    """
    lines = [
        (number, line.rstrip())
        for number, line in enumerate(text.split("\n"), start=1)
        if not line.lstrip().startswith("#")
    ]
    said = [(number, line) for number, line in lines if line.strip()]
    if not said:
        raise InputError([Fault(Origin(file, 1), "holds no dressing", _LAYOUTS)])
    _check_seen(said, file)
    tabs = max(line.strip().count("\t") for _, line in said)
    plain = unfolded(
        [(number, line.replace("\t", " ")) for number, line in lines],
        lambda label: bool(labels_of(label, glossary)),
    )
    labelled = any(_labelled(line, glossary) for _, line in plain)
    # A label and its words may stand a tab apart; a row of a table has more than two cells.
    if tabs > 1 or (tabs and not labelled):
        return list(_table_entries(said, glossary, file))
    if labelled:
        return _labelled_entries(plain, glossary)
    blocks = list(_blocks(lines))
    if all(len(block) == len(HANDBOOK_PARTS) + 1 for block in blocks):
        return [_row_entry(block, None) for block in blocks]
    problem = f"{shown(said[0][1])} begins no layout that is known"
    raise InputError([Fault(Origin(file, said[0][0]), problem, _LAYOUTS)])


def _check_seen(said: Sequence[tuple[int, str]], file: str) -> None:
    faults = [
        Fault(
            Origin(file, number),
            f"{shown(line)} holds a character that can't be seen",
            "type the line anew",
        )
        for number, line in said
        if has_unseen(line)
    ]
    if faults:
        raise InputError(faults)


def labels_of(text: str, glossary: Glossary) -> tuple[str, ...]:
    """Return what a label stands for: parts, or what a line tells about the dressing; else ().

    ``Hackle and whisk`` stands for two parts.
    """
    if len(text) > _LONGEST_NAME:
        return ()
    whole = _label(text, glossary)
    if whole:
        return (whole,)
    labels: list[str] = []
    words: list[str] = []
    tokens = tokens_of(text)
    for index, token in enumerate(tokens):
        senses = glossary.vocabulary.senses((token.word,))
        joins = token.word in ",/" or any(sense.sort is Sort.AND for sense in senses)
        if not joins:
            words.append(token.word)
        if joins or index == len(tokens) - 1:
            label = _label(" ".join(words), glossary)
            if label is None:
                return ()
            labels.append(label)
            words = []
    return tuple(dict.fromkeys(labels))


def _label(text: str, glossary: Glossary) -> str | None:
    phrase = phrase_of(text)
    for sense in glossary.vocabulary.senses(phrase, Sort.LABEL):
        return sense.gives
    return glossary.labels.get(phrase)


def _labelled(line: str, glossary: Glossary) -> bool:
    label, colon, _ = line.partition(":")
    return bool(colon) and bool(labels_of(label, glossary))


def _labelled_entries(lines: Sequence[tuple[int, str]], glossary: Glossary) -> list[Entry]:
    """Read titles and labelled lines; a title after parts, or a second name, begins an entry."""
    entries: list[Entry] = []
    after_blank = True
    for number, line in lines:
        text = line.strip()
        label, colon, words = text.partition(":")
        labels = labels_of(label, glossary) if colon else ()
        current = entries[-1] if entries else None
        if text and (current is None or _begins(current, labels, bool(colon), after_blank)):
            current = Entry(number)
            entries.append(current)
        if text and current is not None:
            _put_line(current, number, line, labels, words.strip(), glossary)
        after_blank = not text
    return entries


def _begins(current: Entry, labels: tuple[str, ...], colon: bool, after_blank: bool) -> bool:
    if NAME in labels:
        return bool(current.cells) or bool(current.name) or NAME in current.about
    return not colon and after_blank and bool(current.cells)


def _put_line(
    entry: Entry, number: int, line: str, labels: tuple[str, ...], words: str, glossary: Glossary
) -> None:
    text = line.strip()
    if labels:
        entry.put(labels, words, number)
        if NAME in labels:
            entry.name = words
    elif ":" in text:
        label = text.partition(":")[0].strip()
        near = nearest(label, [" ".join(phrase) for phrase in glossary.labels])
        entry.unread.append(Unread(number, label, text, f"{shown(label)} is no part", near))
    elif not entry.name and not entry.cells:
        entry.name = text
    elif line[:1].isspace() and entry.cells:
        last = entry.cells[-1]
        entry.cells[-1] = Cell(last.labels, f"{last.text} {text}", last.line)
    else:
        entry.unread.append(Unread(number, "", text, "the line has no label"))


def _blocks(lines: Sequence[tuple[int, str]]) -> Iterator[list[tuple[int, str]]]:
    block: list[tuple[int, str]] = []
    for number, line in [*lines, (0, "")]:
        if line.strip():
            block.append((number, line.strip()))
        elif block:
            yield block
            block = []


def _table_entries(
    said: Sequence[tuple[int, str]], glossary: Glossary, file: str
) -> Iterator[Entry]:
    columns: list[tuple[str, ...]] | None = None
    for index, (number, line) in enumerate(said):
        cells = [(number, cell.strip()) for cell in line.split("\t")]
        if index == 0 and (NAME,) in (named := [labels_of(cell, glossary) for _, cell in cells]):
            columns = named
            _check_columns(cells, named, glossary, file)
        else:
            yield _row_entry(cells, columns)


def _check_columns(
    cells: Sequence[tuple[int, str]],
    columns: Sequence[tuple[str, ...]],
    glossary: Glossary,
    file: str,
) -> None:
    known = [" ".join(phrase) for phrase in glossary.labels]
    faults = [
        Fault(
            Origin(file, number, "column"),
            f"{shown(cell)} is no part of a fly that the tables know",
            "name each column after a part",
            nearest(cell, known),
        )
        for (number, cell), labels in zip(cells, columns, strict=True)
        if cell and not labels
    ]
    if faults:
        raise InputError(faults)


def _row_entry(
    cells: Sequence[tuple[int, str]], columns: Sequence[tuple[str, ...]] | None
) -> Entry:
    """Read the cells of one dressing, side by side in a row or each in a line of its own."""
    known = columns or [(NAME,), *((part,) for part in HANDBOOK_PARTS)]
    entry = Entry(cells[0][0])
    for labels, (number, text) in zip(known, cells, strict=False):
        if text:
            entry.put(labels, text, number)
    entry.name = entry.about[NAME].text if NAME in entry.about else ""
    for number, text in cells[len(known) :]:
        if text:
            entry.unread.append(Unread(number, "", text, "the row has more cells than columns"))
    return entry
