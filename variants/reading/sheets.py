"""Spreadsheets as people save them, converted to one form: comma-separated text in UTF-8.

CSV separated by commas, semicolons or tabs, in UTF-8, UTF-16 or cp1252, and XLSX come in. Rows keep
their lines, so that every later fault is located. Nothing in a file is ever run: a cell that a
spreadsheet would take for a formula is written with an apostrophe before it, which is taken off
when it is read (formula injection).
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.files import PACKED, check_text, read_bytes, shown_name
from variants.reading.limits import MOST_CELLS, REMEDY, too_many

#: Text that begins so is run by spreadsheets.
_RUNS = ("=", "+", "-", "@", "\t", "\r")
_SEPARATORS = ",;\t"
_UTF_16 = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
#: Three digits after a comma may be thousands; after a nought they are decimals.
_DECIMAL = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9,])")
_THOUSANDS = 3


def guard_formula(cell: str) -> str:
    """Return a cell with an apostrophe before it where a spreadsheet would run it as a formula.

    >>> guard_formula("=1+1"), guard_formula("14-18")
    ("'=1+1", '14-18')
    """
    return f"'{cell}" if cell.lstrip("'").startswith(_RUNS) else cell


def unguard_formula(cell: str) -> str:
    """Return a cell without the apostrophe that guards a formula.

    >>> unguard_formula("'=1+1"), unguard_formula("'tis a note")
    ('=1+1', "'tis a note")
    """
    return cell[1:] if cell.startswith("'") and cell.lstrip("'").startswith(_RUNS) else cell


def use_decimal_point(text: str) -> str:
    """Return a measure with decimal points in place of decimal commas.

    A comma before just three digits may separate thousands, so it is left for the reader to refuse.

    >>> use_decimal_point("0,5 g"), use_decimal_point("1,000 hooks")
    ('0.5 g', '1,000 hooks')
    """

    def put(found: re.Match[str]) -> str:
        is_doubtful = len(found[2]) == _THOUSANDS and found[1] != "0"
        return found[0] if is_doubtful else f"{found[1]}.{found[2]}"

    return _DECIMAL.sub(put, text)


def read_sheet(path: str | Path, sheet: str = "") -> str:
    """Read a spreadsheet as comma-separated text; ``-`` is standard input.

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
    raw = read_bytes(path, name)
    if raw.startswith(PACKED):
        from variants.reading.workbooks import workbook_rows

        return join_by_commas(workbook_rows(raw, name, sheet))
    text = check_text(decode(raw, name)[0], name)
    if text.count(detect_separator(text)) > MOST_CELLS:
        raise _error(name, too_many("cells", MOST_CELLS), REMEDY)
    return convert_to_commas(text)


def join_by_commas(rows: Iterable[Sequence[str]]) -> str:
    """Return rows as comma-separated text, one line feed after each.

    A row whose first cell begins as comments do is quoted, where it has more cells than that.

    >>> join_by_commas([["# a comment", ""], ["#14 hooks", "hook"]])
    '# a comment,\\n"#14 hooks","hook"\\n'
    """
    text = io.StringIO()
    minimal = csv.writer(text, lineterminator="\n")
    quoted = csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_ALL)
    for row in rows:
        is_no_comment = bool(row) and row[0].startswith("#") and any(row[1:])
        (quoted if is_no_comment else minimal).writerow(row)
    return text.getvalue()


def decode(raw: bytes, name: str) -> tuple[str, str]:
    """Decode the bytes of a file, and return its encoding, in which it can be written again.

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
        raise _error(name, "is saved as UTF-32", "save it again as UTF-8")
    text, encoding = _decode_letters(raw, name)
    zero = text.find("\0")
    if zero >= 0:
        remedy = "save it again as plain text in UTF-8"
        raise _error(name, "the line holds a zero byte", remedy, text.count("\n", 0, zero) + 1)
    return text, encoding


def _decode_letters(raw: bytes, name: str) -> tuple[str, str]:
    for mark, encoding in _UTF_16.items():
        if raw.startswith(mark):
            try:
                return raw[len(mark) :].decode(encoding), encoding
            except UnicodeDecodeError:
                raise _error(name, "ends amid a letter", "save it again as UTF-8") from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        # What spreadsheets of the west call ANSI; five bytes of it mean nothing.
        return raw.decode("cp1252", errors="replace"), "cp1252"
    return text, "utf-8-sig" if raw.startswith(b"\xef\xbb\xbf") else "utf-8"


def _error(name: str, problem: str, remedy: str, line: int = 0) -> InputError:
    return InputError([Fault(Origin(name, line), problem, remedy)])


def convert_to_commas(text: str) -> str:
    """Convert text separated by semicolons or tabs to commas, line for line."""
    text = text.replace("\r\n", "\n")
    separator = detect_separator(text)
    if separator == ",":
        return text
    if text.count('"') % 2:
        # A quotation mark is never closed: the reader of tables says which.
        return text.replace(separator, ",")
    return _convert_lines(text.split("\n"), separator)


def _convert_lines(lines: Sequence[str], separator: str) -> str:
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
            written.append(join_by_commas([cells])[:-1])
            waiting = []
    return "\n".join([*written, *waiting])


def detect_separator(text: str) -> str:
    """Return the separator of the first line that is no comment, outside of quotation marks."""
    for line in text.split("\n"):
        if line.startswith("#") or not line.strip(f' "{_SEPARATORS}'):
            continue
        bare = re.sub(r'"[^"]*"', "", line)
        return max(_SEPARATORS, key=bare.count) if any(map(bare.count, _SEPARATORS)) else ","
    return ","
