"""The columns of someone's list matched with those of a box, and where its header stands.

Titles may stand above the header, and it may be two rows high where cells were merged: "Size" over
"from" and "to". ``rules/columns.tsv`` holds the words that columns go by.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from variants.model import Origin, plain
from variants.reading import COLUMNS, Fault, Faults, InputError, read_table
from variants.text import nearest, shown
from variants.units import unit_names

#: What a list may have besides the columns of a box.
FROM, TO, UNIT = " from", " to", "unit"
PARTED = ("sizes", "length")
TARGETS = (*COLUMNS, UNIT, *(f"{name}{end}" for name in PARTED for end in (FROM, TO)))
#: A header is looked for in so many rows.
_TOP = 40
#: Likeness, 0 to 100, that a misspelt column's name needs.
_ALIKE = 85
_UNIT = re.compile(r"[\[(]?\s*(?:in\s+)?(?P<unit>[a-z]+)\s*[\])]?")
_ENDS = {"from": FROM, "min": FROM, "low": FROM, "to": TO, "max": TO, "high": TO}


@dataclass(frozen=True, slots=True)
class ListColumn:
    """One column of a list.

    Attributes
    ----------
    place : int
        From 0.
    header : str
        As it stands there; of a merged one, both words.
    target : str
        The column of a box, or one of the owner's own.
    unit : str
        That the header states: ``mm`` of ``Length (mm)``.
    how : str
        Why it is taken for that: ``same``, ``word``, ``like``, ``told`` or ``own``.
    """

    place: int
    header: str
    target: str
    unit: str = ""
    how: str = "own"


@dataclass(frozen=True, slots=True)
class ListHeader:
    """Where the header of a list stands, and its columns."""

    line: int
    lines: int
    columns: tuple[ListColumn, ...]


def read_column_words(folders: Sequence[Path]) -> dict[str, str]:
    """Read ``columns.tsv`` of several rules folders: words to columns.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    faults = Faults()
    words: dict[str, str] = {}
    for folder in folders:
        path = folder / "columns.tsv"
        if path.is_file():
            columns = ("column", "words", "source")
            for row in read_table(path, columns, columns, faults, tabs=True):
                fields = row.fields(faults)
                target = fields.choice("column", TARGETS, None)
                fields.text("source", None)
                words |= {plain(word): target for word in fields.words("words")}
    faults.stop_if_any()
    return words


def find_header(
    rows: Sequence[tuple[int, Sequence[str]]],
    words: Mapping[str, str],
    told: Mapping[str, str],
    name: str,
) -> ListHeader:
    """Find the header of a list and match its columns.

    Parameters
    ----------
    rows : sequence of (line, cells)
        Without empty rows and comments.
    words : mapping
        From `read_column_words`.
    told : mapping of header to column
        What the user said; an empty column leaves one out.
    name : str
        Of the file, for messages.

    Raises
    ------
    InputError
        When no row names columns, or the user named one that is not there.
    """
    best, most = 0, 0
    for place, (_, cells) in enumerate(rows[:_TOP]):
        known = {
            target for cell in cells if (target := _exact_target(cell, words, told)) is not None
        }
        if len(known) > most:
            best, most = place, len(known)
    if not rows or most < 2:
        remedy = "one row has to name the columns, such as item, material, colour, amount, place"
        raise InputError([Fault(Origin(name, rows[0][0] if rows else 1), "no header", remedy)])
    line, cells = rows[best]
    names, lines = list(cells), 1
    below = rows[best + 1][1] if best + 1 < len(rows) else ()
    if _is_second_row(cells, below):
        names, lines = _join_headers(cells, below), 2
    columns = _match_columns(names, words, told)
    headers = [column.header for column in columns]
    for header, target in told.items():
        if plain(header) not in map(plain, headers):
            near = nearest(header, [one for one in headers if one])
            raise InputError([Fault(Origin(name, line), f"no column {shown(header)}", "", near)])
        if target and normalize_target(target) not in TARGETS and plain(target) in words:
            problem = f"{shown(target)} is no column of a box"
            raise InputError([Fault(Origin(name, line), problem, f"write {words[plain(target)]}")])
    return ListHeader(line, lines, columns)


def _exact_target(cell: str, words: Mapping[str, str], told: Mapping[str, str]) -> str | None:
    by_user = {plain(header): target for header, target in told.items()}
    name, _unit = _split_unit(cell)
    return by_user.get(plain(cell)) or words.get(plain(cell)) or words.get(plain(name))


def _split_unit(cell: str) -> tuple[str, str]:
    """Return a header less the unit it ends with, and that.

    >>> _split_unit("Length (mm)"), _split_unit("Weight in g"), _split_unit("Place")
    (('Length', 'mm'), ('Weight', 'g'), ('Place', ''))
    """
    text = " ".join(cell.split())
    match = re.fullmatch(
        r"(.+?)\s*[\[(]\s*(?:in\s+)?([A-Za-z]+)\s*[\])]|(.+?)\s+in\s+([a-z]+)", text
    )
    if match is None:
        return text, ""
    name, unit = (match[1], match[2]) if match[1] else (match[3], match[4])
    return (name, unit.lower()) if unit.lower() in unit_names() else (text, "")


def _is_second_row(cells: Sequence[str], below: Sequence[str]) -> bool:
    """Tell whether the row below the header parts merged cells: "from" and "to" under "Size"."""
    told = [(above, cell) for above, cell in zip_longest(cells, below, fillvalue="") if cell]
    ends = sum(plain(cell) in _ENDS for _, cell in told)
    return ends >= 2 and len(told) < len([cell for cell in cells if cell]) + ends


def _join_headers(cells: Sequence[str], below: Sequence[str]) -> list[str]:
    names: list[str] = []
    last = ""
    for above, cell in zip_longest(cells, below, fillvalue=""):
        last = above or (last if cell else "")
        base, unit = _split_unit(last)
        joined = f"{base} {cell} ({unit})" if unit else f"{last} {cell}"
        names.append(joined.strip() if cell else above)
    return names


def _match_columns(
    names: Sequence[str], words: Mapping[str, str], told: Mapping[str, str]
) -> tuple[ListColumn, ...]:
    by_user = {plain(header): target for header, target in told.items()}
    columns: dict[int, ListColumn] = {}
    taken: set[str] = set()
    # What the user said goes before what is certain, that before what is likely.
    for stage in ("told", "exact", "like"):
        for place, name in enumerate(names):
            if place in columns or not name:
                continue
            column = _column(place, name, words, by_user, stage)
            if column is not None and (column.target not in taken or not column.target):
                columns[place] = column
                taken.add(column.target)
    for place, name in enumerate(names):
        if place not in columns and name:
            columns[place] = ListColumn(place, name, _own_name(name, taken))
            taken.add(columns[place].target)
    return tuple(columns[place] for place in sorted(columns))


def _column(
    place: int, name: str, words: Mapping[str, str], by_user: Mapping[str, str], stage: str
) -> ListColumn | None:
    bare, unit = _split_unit(name)
    if stage == "told":
        target = by_user.get(plain(name))
        return (
            None
            if target is None
            else ListColumn(place, name, normalize_target(target), unit, "told")
        )
    key = _normalize_end(plain(bare))
    if stage == "exact":
        target = words.get(plain(name)) or words.get(key) or _find_range_end(key, words)
        if target is None:
            return None
        unit = unit or (plain(bare) if plain(bare) in unit_names() else "")
        return ListColumn(place, name, target, unit, "same" if key == target else "word")
    from rapidfuzz import fuzz, process

    found = process.extractOne(key, list(words), scorer=fuzz.ratio, score_cutoff=_ALIKE)
    return None if found is None else ListColumn(place, name, words[found[0]], unit, "like")


def normalize_target(name: str) -> str:
    """Return what a user calls a column as a list's reader spells it; his own as it is."""
    return name.lower() if name.lower() in TARGETS else name


def _normalize_end(name: str) -> str:
    """Return a name whose last word says which end it is, in the words of the table."""
    *first, last = name.split() or [""]
    return " ".join([*first, _ENDS[last].strip()]) if first and last in _ENDS else name


def _find_range_end(name: str, words: Mapping[str, str]) -> str | None:
    """Return the column for one end of a range: "for hooks from" is where the sizes begin."""
    for end in (FROM, TO):
        base = words.get(name.removesuffix(end)) if name.endswith(end) else None
        if base in PARTED:
            return f"{base}{end}"
    return None


def _own_name(name: str, taken: set[str]) -> str:
    """Return a name for a column of the owner's own that no other one bears."""
    base = " ".join(name.split())
    number, own = 2, base
    while own.lower() in {*map(str.lower, taken), *TARGETS}:
        own, number = f"{base} {number}", number + 1
    return own
