"""TSV and CSV to located rows: header, comments, wrong widths; no meaning yet."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.files import read_text, shown_name
from variants.reading.sheets import read_sheet, unguard_formula, use_decimal_point
from variants.text import nearest, shown

#: A name of the owner's own that is this like one of ours (0 to 100) is a slip of the pen.
_A_SLIP = 80
_MOST_COLUMNS = 256
_COMMENT = "#"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table, by column, with its line."""

    values: dict[str, str]
    file: str
    line: int

    def fields(self, faults: Faults) -> Fields:
        """Return the row as a record to read."""
        return Fields(
            self.values, lambda field: Origin(self.file, self.line, field), faults, cells=True
        )


def read_sheet_table(
    path: str | Path,
    columns: Sequence[str],
    required: Sequence[str],
    faults: Faults,
    numbers: Sequence[str],
) -> list[TableRow]:
    """Read a small table saved as a spreadsheet saves it: CSV, TSV or a workbook.

    Parameters
    ----------
    path, columns, required, faults
        As for `read_table`.
    numbers : sequence of str
        Columns of numbers, where a spreadsheet may write a comma for the point.
    """
    text = read_sheet(path)
    rows = read_table(path, columns, required, faults, tabs=False, text=text)
    return [strip_spreadsheet_marks(row, numbers) for row in rows]


def strip_spreadsheet_marks(row: TableRow, numbers: Sequence[str]) -> TableRow:
    """Return a row without what spreadsheets put into its cells."""
    cells = {name: unguard_formula(cell) for name, cell in row.values.items()}
    for name in numbers:
        if "," in cells.get(name, ""):
            cells[name] = use_decimal_point(cells[name])
    return TableRow(cells, row.file, row.line)


def read_header(text: str) -> frozenset[str]:
    """Return the names in the header of a text parted by commas, as `read_sheet` gives it.

    >>> sorted(read_header("# what the shop asks\\nmaterial,Price\\n"))
    ['material', 'price']
    """
    for line in text.splitlines():
        if line.strip(" ,") and not line.startswith(_COMMENT):
            return frozenset(
                unguard_formula(cell.strip()).lower() for cell in next(csv.reader([line]))
            )
    return frozenset()


def read_table(
    path: str | Path,
    columns: Sequence[str],
    required: Sequence[str],
    faults: Faults,
    *,
    tabs: bool,
    extra_columns: bool = False,
    text: str | None = None,
    hint: str = "",
) -> list[TableRow]:
    """Read a table whose first line that is no comment names the columns.

    Parameters
    ----------
    path : str or Path
        ``-`` is standard input.
    columns, required : sequence of str
        Columns that are known, and those that must be there.
    faults : Faults
        Where to note what is wrong.
    tabs : bool
        TSV without quoting when true, CSV as a spreadsheet saves it when false.
    extra_columns : bool
        Whether columns of the owner's own are kept without a word; one that is nearly the name of a
        known column is refused all the same, or its values would be lost in silence.
    text : str, optional
        What the file holds, where it has been read already.
    hint : str
        What else may help when a column is missing.
    """
    name, noted = shown_name(path), len(faults)
    text = read_text(path) if text is None else text
    lines = _tab_separated(text) if tabs else _comma_separated(text, name, faults)
    header: list[str] | None = None
    rows: list[TableRow] = []
    for line, cells in lines:
        if header is None:
            header = [cell.lower() if tabs else unguard_formula(cell).lower() for cell in cells]
            if len(header) > _MOST_COLUMNS:
                problem = f"the first line names {len(header)} columns"
                faults.add(Origin(name, line), problem, f"keep to {_MOST_COLUMNS} of them")
                return []
            _Header(header, tuple(columns), Origin(name, line), faults, hint).check(
                tuple(required), extra_columns
            )
            if len(faults) > noted:
                return []
        elif any(cells[len(header) :]):
            faults.add(
                Origin(name, line),
                f"has {len(cells)} cells where the header names {len(header)}",
                "quote a cell that holds the separator, or remove the cells at the end",
            )
        else:
            rows.append(TableRow(dict(zip(header, cells, strict=False)), name, line))
    if header is None and len(faults) == noted:
        remedy = "the first line names the columns: " + ", ".join(required)
        faults.add(Origin(name, 1), "holds no table", remedy)
    return rows


def _tab_separated(text: str) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(text.split("\n"), start=1):
        cells = [cell.strip() for cell in line.split("\t")]
        if any(cells) and not line.startswith(_COMMENT):
            yield number, cells


class _Lines:
    """The lines of a text for the standard reader of CSV, without the comments.

    The reader asks for more lines when a quoted cell runs over several; only a line that begins a
    row can be a comment, so whoever asks for a row says so first.
    """

    def __init__(self, text: str) -> None:
        self._lines = iter(text.split("\n"))
        self.number = 0
        self.first = 0

    def begin_row(self) -> None:
        self.first = 0

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = next(self._lines)
        self.number += 1
        while not self.first and line.startswith(_COMMENT):
            line = next(self._lines)
            self.number += 1
        self.first = self.first or self.number
        return line + "\n"


def _comma_separated(text: str, name: str, faults: Faults) -> Iterator[tuple[int, list[str]]]:
    """Yield the rows with the line each begins on; stop at the first that is no CSV."""
    lines = _Lines(text)
    reader = csv.reader(lines, strict=True)
    while True:
        lines.begin_row()
        try:
            cells = [cell.strip() for cell in next(reader)]
        except StopIteration:
            return
        except csv.Error as problem:
            faults.add(Origin(name, lines.first), *_csv_fault(str(problem)))
            return
        if any(cells):
            yield lines.first, cells


def _csv_fault(problem: str) -> tuple[str, str]:
    """Return what is wrong and what would be right, from the standard reader's words."""
    if "expected after" in problem:
        return (
            "a quotation mark ends in the middle of a cell",
            'put the whole cell in quotation marks and double those inside: "a 7"" cape"',
        )
    if "unexpected end" in problem or "field limit" in problem:
        return "a quotation mark opens here and is never closed", "close it at the end of the cell"
    return "a carriage return stands inside the line", "save it again as CSV"


@dataclass(frozen=True, slots=True)
class _Header:
    """The names of the columns as they stand in a file, to be held against those that are known."""

    header: list[str]
    known: tuple[str, ...]
    origin: Origin
    faults: Faults
    hint: str = ""

    def check(self, required: tuple[str, ...], extra_columns: bool) -> None:
        """Note what is missing, given twice or unknown."""
        if len(self.header) == 1 and self._other_separator():
            return
        for name in dict.fromkeys(cell for cell in self.header if self.header.count(cell) > 1):
            if name:
                self._add(f"the column {shown(name)} stands twice", "keep one of the two")
        slips = self._slips(required, extra_columns)
        for name, near in slips.items():
            self._add(f"{shown(name)} is not a column here", self._help(), near)
        for name in required:
            if name not in self.header and not any(name in near for near in slips.values()):
                remedy = f"{self._help()}; {self.hint}" if self.hint else self._help()
                self._add(f"the column '{name}' is missing", remedy)

    def _other_separator(self) -> bool:
        for separator, words in ((";", "semicolons"), ("\t", "tabs"), (",", "commas")):
            if separator in self.header[0]:
                wanted = "tabs" if separator == "," else "commas"
                self._add(f"the columns are parted by {words}", f"save it again parted by {wanted}")
                return True
        return False

    def _slips(self, required: tuple[str, ...], extra_columns: bool) -> dict[str, tuple[str, ...]]:
        """Return unknown columns with the known ones that the file lacks and that they may mean."""
        lacking = [name for name in self.known if name not in self.header]
        slips: dict[str, tuple[str, ...]] = {}
        for name in self.header:
            if name in self.known or (extra_columns and not name):
                continue
            near = nearest(name, lacking)
            if not extra_columns or _is_slip(name, near):
                slips[name] = near
        return slips

    def _help(self) -> str:
        return "known columns: " + ", ".join(self.known)

    def _add(self, problem: str, remedy: str, near: Iterable[str] = ()) -> None:
        self.faults.add(self.origin, problem, remedy, near)


def _is_slip(name: str, near: tuple[str, ...]) -> bool:
    from rapidfuzz import fuzz

    return bool(near) and fuzz.ratio(name, near[0]) >= _A_SLIP
