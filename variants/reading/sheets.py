"""Spreadsheets as people save them, made into one plain form: text parted by commas, in UTF-8.

CSV parted by commas, semicolons or tabs, in UTF-8, UTF-16 or the Latin-1 family, and XLSX come in.
The rows keep their places, so that every later fault is told with its own line. Nothing in a file
is ever run. A cell whose text begins with a sign that would make a spreadsheet run it is marked
with an apostrophe on the way out, which is taken off on the way in.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.files import PACKED, bytes_of, checked_text, shown_name
from variants.reading.limits import MOST_CELLS, REMEDY, too_many

#: Text that begins so is run by spreadsheets.
_RUNS = ("=", "+", "-", "@", "\t", "\r")
_SEPARATORS = ",;\t"
_UTF_16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
#: Three digits after a comma may be thousands; after a nought they are decimals.
_DECIMAL = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9,])")
_THOUSANDS = 3


def guarded(cell: str) -> str:
    """Return a cell as it is written, so that no spreadsheet runs it.

    >>> guarded("=1+1"), guarded("14-18")
    ("'=1+1", '14-18')
    """
    return f"'{cell}" if cell.lstrip("'").startswith(_RUNS) else cell


def unguarded(cell: str) -> str:
    """Return a written cell as it was meant.

    >>> unguarded("'=1+1"), unguarded("'tis a note")
    ('=1+1', "'tis a note")
    """
    return cell[1:] if cell.startswith("'") and cell.lstrip("'").startswith(_RUNS) else cell


def decimal_points(text: str) -> str:
    """Return a measure with points where it was written with decimal commas.

    A comma before just three digits may part thousands, so it is left for the reader to refuse.

    >>> decimal_points("0,5 g"), decimal_points("1,000 hooks")
    ('0.5 g', '1,000 hooks')
    """

    def put(found: re.Match[str]) -> str:
        is_doubtful = len(found[2]) == _THOUSANDS and found[1] != "0"
        return found[0] if is_doubtful else f"{found[1]}.{found[2]}"

    return _DECIMAL.sub(put, text)


def read_sheet(path: str | Path, sheet: str = "") -> str:
    """Return a spreadsheet as text parted by commas; ``-`` is standard input.

    Parameters
    ----------
    path : path
    sheet : str
        Of a workbook, which of its sheets; the first when empty.

    Raises
    ------
    InputError
        When it can't be read, is no text and no workbook, or holds more than any box.
    """
    name = shown_name(path)
    raw = bytes_of(path, name)
    if raw.startswith(PACKED):
        from variants.reading.workbooks import workbook_rows

        return comma_text(workbook_rows(raw, name, sheet))
    text = checked_text(decoded(raw, name)[0], name)
    if text.count(separator_of(text)) > MOST_CELLS:
        raise _refused(name, too_many("cells", MOST_CELLS), REMEDY)
    return by_commas(text)


def comma_text(rows: Iterable[Sequence[str]]) -> str:
    """Return rows as text parted by commas, one line feed after each.

    A row of more than a comment is one even where its first cell begins as comments do.

    >>> comma_text([["# a comment", ""], ["#14 hooks", "hook"]])
    '# a comment,\\n"#14 hooks","hook"\\n'
    """
    written = io.StringIO()
    plainly = csv.writer(written, lineterminator="\n")
    quoted = csv.writer(written, lineterminator="\n", quoting=csv.QUOTE_ALL)
    for row in rows:
        is_named_so = bool(row) and row[0].startswith("#") and any(row[1:])
        (quoted if is_named_so else plainly).writerow(row)
    return written.getvalue()


def decoded(raw: bytes, name: str) -> tuple[str, str]:
    """Return a file's text and how its letters are written, so that it can be written so again.

    Parameters
    ----------
    raw : bytes
    name : str
        The file's, for messages.

    Returns
    -------
    text : str
        Without a byte-order mark.
    encoding : str
        ``utf-8``, ``utf-8-sig``, ``utf-16-le``, ``utf-16-be`` or ``cp1252``.

    Raises
    ------
    InputError
        When it is no text.
    """
    if raw.startswith((b"\xff\xfe\0\0", b"\0\0\xfe\xff")):
        raise _refused(name, "is saved as UTF-32", "save it again as UTF-8")
    text, encoding = _letters(raw, name)
    zero = text.find("\0")
    if zero >= 0:
        remedy = "save it again as plain text in UTF-8"
        raise _refused(name, "the line holds a zero byte", remedy, text.count("\n", 0, zero) + 1)
    return text, encoding


def _letters(raw: bytes, name: str) -> tuple[str, str]:
    for mark, encoding in _UTF_16.items():
        if raw.startswith(mark):
            try:
                return raw[len(mark) :].decode(encoding), encoding
            except UnicodeDecodeError:
                raise _refused(name, "ends amid a letter", "save it again as UTF-8") from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        # What spreadsheets of the west call ANSI; five bytes of it mean nothing.
        return raw.decode("cp1252", errors="replace"), "cp1252"
    return text, "utf-8-sig" if raw.startswith(b"\xef\xbb\xbf") else "utf-8"


def _refused(name: str, problem: str, remedy: str, line: int = 0) -> InputError:
    return InputError([Fault(Origin(name, line), problem, remedy)])


def by_commas(text: str) -> str:
    """Return a text parted by semicolons or tabs as one parted by commas, line for line."""
    text = text.replace("\r\n", "\n")
    separator = separator_of(text)
    if separator == ",":
        return text
    if text.count('"') % 2:
        # A quotation mark is never closed: the reader of tables says which.
        return text.replace(separator, ",")
    return _reparted(text.split("\n"), separator)


def _reparted(lines: Sequence[str], separator: str) -> str:
    written: list[str] = []
    waiting: list[str] = []
    for line in lines:
        if not waiting and (line.startswith("#") or not line.strip()):
            written.append(line)
            continue
        waiting.append(line)
        row = "\n".join(waiting)
        if row.count('"') % 2 == 0:
            cells = next(csv.reader(io.StringIO(row, newline=""), delimiter=separator), [])
            written.append(comma_text([cells])[:-1])
            waiting = []
    return "\n".join([*written, *waiting])


def separator_of(text: str) -> str:
    """Return what parts the first line that is no comment, outside of quotation marks."""
    for line in text.split("\n"):
        if line.startswith("#") or not line.strip(f' "{_SEPARATORS}'):
            continue
        bare = re.sub(r'"[^"]*"', "", line)
        return max(_SEPARATORS, key=bare.count) if any(map(bare.count, _SEPARATORS)) else ","
    return ","
