"""A box as a table for other programs: CSV for any spreadsheet, or a workbook."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from variants.box.box_text import BoxText
from variants.reading import Faults, read_table
from variants.reading.sheets import guard_formula, read_sheet, unguard_formula
from variants.reading.workbooks import workbook_bytes

_MARK = b"\xef\xbb\xbf"
Table = list[list[str]]


def load_table(box: str | Path) -> Table:
    """Read the rows of a box, the header first, with every column that is there.

    Raises
    ------
    InputError
        When it can't be read.
    """
    text = read_sheet(box)
    faults = Faults()
    rows = read_table(box, (), (), faults, tabs=False, extra_columns=True, text=text)
    faults.stop_if_any()
    header = BoxText(text).header
    cells = [
        [guard_formula(unguard_formula(row.values.get(name, ""))) for name in header]
        for row in rows
    ]
    return [[guard_formula(name) for name in BoxText(text).columns], *cells]


def to_csv(table: Sequence[Sequence[str]], separator: str = ",") -> bytes:
    """Return a table as CSV in UTF-8, with the mark by which spreadsheets know it."""
    text = io.StringIO(newline="")
    minimal = csv.writer(text, delimiter=separator, lineterminator="\r\n")
    quoted = csv.writer(text, delimiter=separator, lineterminator="\r\n", quoting=csv.QUOTE_ALL)
    for row in table:
        # A first cell that begins as a comment does is put in quotation marks.
        (quoted if row and row[0].startswith("#") else minimal).writerow(row)
    return _MARK + text.getvalue().encode("utf-8")


def to_workbook(table: Sequence[Sequence[str]]) -> bytes:
    """Return a table as a workbook of one sheet; every cell is text, so nothing in it is run.

    Raises
    ------
    InputError
        When a cell holds what no workbook can.
    """
    return workbook_bytes(table, "box")
