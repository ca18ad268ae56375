"""TSV and CSV to located rows: header, comments, wrong widths; no meaning yet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Faults, nearest, shown
from variants.reading.fields import Fields
from variants.reading.files import read_text


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table, by column, with its line."""

    values: dict[str, str]
    file: str
    line: int

    def fields(self, faults: Faults) -> Fields:
        """Return the row as a record to read."""
        return Fields(
            self.values, lambda field: Origin(self.file, self.line, field), faults
        )


def read_table(
    path: str | Path,
    columns: Iterable[str],
    required: Iterable[str],
    faults: Faults,
    *,
    tabs: bool,
    extra_columns: bool = False,
) -> list[Row]:
    """Read a table whose first line that is no comment names the columns.

    Parameters
    ----------
    path : str or Path
        ``-`` is standard input.
    columns, required : iterable of str
        Columns that are known, and those that must be there.
    faults : Faults
        Where to note what is wrong.
    tabs : bool
        TSV without quoting when true, CSV as a spreadsheet saves it when false.
    extra_columns : bool
        Whether columns of the owner's own are kept without a word.
    """
    name = "(standard input)" if str(path) == "-" else str(path)
    lines = _lines(read_text(path), tabs)
    header: list[str] | None = None
    rows: list[Row] = []
    try:
        for line, cells in lines:
            if not any(cell.strip() for cell in cells) or cells[0].startswith("#"):
                continue
            if header is None:
                header = [cell.strip().lower() for cell in cells]
                _check_header(header, columns, required, Origin(name, line), faults, extra_columns)
                if faults:
                    return []
            elif len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
                faults.add(
                    Origin(name, line),
                    f"has {len(cells)} cells where the header names {len(header)}",
                    "quote a cell that holds the separator, or remove the cells at the end",
                )
            else:
                cells = [cell.strip() for cell in cells]
                rows.append(Row(dict(zip(header, cells, strict=False)), name, line))
    except csv.Error as problem:
        faults.add(Origin(name), f"can't be read as a table: {problem}", "save it again as CSV")
    if header is None and not faults:
        faults.add(
            Origin(name, 1), "holds no table", "the first line names the columns: " + _listed(required)
        )
    return rows


def _listed(columns: Iterable[str]) -> str:
    return ", ".join(columns)


def _lines(text: str, tabs: bool) -> Iterator[tuple[int, list[str]]]:
    if tabs:
        for number, line in enumerate(text.splitlines(), start=1):
            yield number, line.split("\t")
    else:
        reader = csv.reader(io.StringIO(text), strict=True)
        for cells in reader:
            yield reader.line_num, cells or [""]


def _check_header(
    header: list[str],
    columns: Iterable[str],
    required: Iterable[str],
    origin: Origin,
    faults: Faults,
    extra_columns: bool,
) -> None:
    known = tuple(columns)
    for name in required:
        if name not in header:
            faults.add(
                origin,
                f"the column '{name}' is missing",
                "the first line names the columns: " + _listed(known),
                nearest(name, [cell for cell in header if cell not in known]),
            )
    for name in sorted({cell for cell in header if cell and header.count(cell) > 1}):
        faults.add(origin, f"the column {shown(name)} stands twice", "keep one of the two")
    if not extra_columns:
        for name in header:
            if name not in known:
                faults.add(
                    origin,
                    f"{shown(name)} is not a column here",
                    "known columns: " + _listed(known),
                    nearest(name, known),
                )
