"""Workbooks (XLSX): the values of one sheet as text, row by row; formulas are never run.

A workbook is a zip of XML. Before anything is unpacked, the sizes that it declares are looked at
(the unpacker never yields more than a member declares), and XML that defines entities of its own
is refused, so that a small file can't fill the memory.
"""

from __future__ import annotations

import datetime
import io
import warnings
import zipfile
from collections.abc import Iterator, Sequence
from typing import Any

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.limits import LONGEST_LINE, MOST_BYTES, MOST_CELLS, MOST_LINES, too_many
from variants.text import nearest, shown

#: Unpacked: XML takes four times the letters of CSV.
_MOST_BYTES = 4 * MOST_BYTES
_MOST_MEMBERS = 2000
#: Honest sheets shrink ten- to thirtyfold.
_MOST_SHRUNK = 400
_MOST_COLUMNS = 256
_HEAD, _PIECE = 4096, 65536
_READABLE = "save it again as .xlsx, or as CSV"


def workbook_rows(raw: bytes, name: str, sheet: str = "") -> list[list[str]]:
    """Return the rows of a sheet as text, empty ones kept in place.

    Parameters
    ----------
    raw : bytes
    name : str
        The file's, for messages.
    sheet : str
        Its name; the first sheet when empty.

    Raises
    ------
    InputError
        When it is no workbook, unpacks to more than 64 MB, or defines entities.
    """
    _check(raw, name)
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            # The library grumbles to the terminal about what it passes over.
            warnings.simplefilter("ignore")
            book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True, keep_links=False)
            rows = list(_rows(_sheet(book, name, sheet), name))
    except InputError:
        raise
    except Exception:
        # The library raises whatever its parsers raise on a spoilt file.
        raise _refused(name, "is no workbook that can be read", _READABLE) from None
    return rows


def _check(raw: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            members = packed.infolist()
            whole = sum(member.file_size for member in members)
            if len(members) > _MOST_MEMBERS or whole > _MOST_BYTES:
                raise _refused(name, "unpacks to more than 64 MB", "split it, or save it as CSV")
            if whole > _MOST_SHRUNK * max(len(raw), _HEAD):
                raise _refused(name, "unpacks to far more than a sheet holds", _READABLE)
            for member in members:
                if member.filename.endswith((".xml", ".rels")):
                    _check_xml(packed, member, name)
    except InputError:
        raise
    except Exception:
        raise _refused(name, "is no workbook that can be read", _READABLE) from None


def _check_xml(packed: zipfile.ZipFile, member: zipfile.ZipInfo, name: str) -> None:
    unclosed, rows, cells = 0, 0, 0
    with packed.open(member) as opened:
        piece = opened.read(_PIECE)
        head = piece[:_HEAD].replace(b"\0", b"")
        if b"<!DOCTYPE" in head or b"<!ENTITY" in head:
            raise _refused(name, "defines entities of its own, as no spreadsheet does", _READABLE)
        while piece:
            rows += piece.count(b"<row")
            cells += piece.count(b"<c ") + piece.count(b"<c>") + piece.count(b"<c/")
            if rows > MOST_LINES:
                raise _refused(name, too_many("rows", MOST_LINES), "split it")
            if cells > MOST_CELLS:
                raise _refused(name, too_many("cells", MOST_CELLS), "split it")
            closed = piece.rfind(b">")
            unclosed = unclosed + len(piece) if closed < 0 else len(piece) - closed
            if unclosed > LONGEST_LINE:
                raise _refused(
                    name, "holds a cell larger than any that a spreadsheet has", _READABLE
                )
            piece = opened.read(_PIECE)


def _sheet(book: Any, name: str, wanted: str) -> Any:
    names = list(book.sheetnames)
    if wanted and wanted not in names:
        problem = f"has no sheet {shown(wanted)}"
        remedy = "its sheets: " + ", ".join(shown(one) for one in names[:12])
        raise InputError([Fault(Origin(name), problem, remedy, nearest(wanted, names))])
    if not names:
        raise _refused(name, "holds no sheet", _READABLE)
    return book[wanted or names[0]]


def _rows(sheet: Any, name: str) -> Iterator[list[str]]:
    # A sheet may claim to be as large as sheets can be.
    sheet.reset_dimensions()
    rows = sheet.iter_rows(max_row=MOST_LINES + 1, max_col=_MOST_COLUMNS)
    for place, row in enumerate(rows, start=1):
        if place > MOST_LINES:
            raise _refused(name, too_many("rows", MOST_LINES), "split it")
        cells = [format_cell(cell.value) for cell in row]
        while cells and not cells[-1]:
            cells.pop()
        yield cells


def format_cell(value: object) -> str:
    """Return a cell's value as a person would write it.

    >>> format_cell(14.0), format_cell(0.1 + 0.2), format_cell(None)
    ('14', '0.3', '')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "y" if value else "n"
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, datetime.datetime | datetime.date):
        return _date_text(value)
    return str(value).replace("\0", "").replace("\r\n", "\n").replace("\r", "\n").strip()


def _date_text(value: datetime.datetime | datetime.date) -> str:
    day = value.date() if isinstance(value, datetime.datetime) else value
    return day.isoformat()


def workbook_bytes(rows: Sequence[Sequence[str]], title: str) -> bytes:
    """Return a workbook of one sheet; every cell is text, so nothing in it is ever run.

    Raises
    ------
    InputError
        When a cell holds what no workbook can.
    """
    from openpyxl import Workbook
    from openpyxl.utils.exceptions import IllegalCharacterError

    book = Workbook()
    sheet = book.active
    sheet.title = title
    for place, row in enumerate(rows, start=1):
        for column, text in enumerate(row, start=1):
            if not text:
                continue
            try:
                cell = sheet.cell(place, column, text)
            except IllegalCharacterError:
                problem = f"{shown(text)} holds a control character"
                raise _refused(title, problem, "correct it before you export") from None
            cell.data_type = "s"
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def _refused(name: str, problem: str, remedy: str) -> InputError:
    return InputError([Fault(Origin(name), problem, remedy)])
