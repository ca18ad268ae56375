"""The text of a box file, edited in place: every line that an edit doesn't touch stays as it is.

Bytes come in and bytes go out, in the encoding, with the separator and the line ends that the
owner's spreadsheet wrote. Rows are found by the item's name; columns of the owner's own, comments,
empty rows and the order stay. The meaning of the cells is not looked at here.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from variants.model import Origin, plain
from variants.reading import COLUMNS, Fault, InputError, check_text
from variants.reading.sheets import decode, detect_separator, guard_formula, unguard_formula

#: The byte-order mark of an encoding, and the name of its codec.
_MARKS = {"utf-8-sig": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
_CODECS = {"utf-8-sig": "utf-8"}
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16-le", "utf-16-be", "cp1252")
SAVE_AGAIN = "save the box again as UTF-8 in your spreadsheet, then give the command again"
#: What stands for a byte that the encoding gives no letter.
_LOST = "\N{REPLACEMENT CHARACTER}"
_COMMENT = "#"
NEW_BOX = ",".join(COLUMNS) + "\n"


def sha256_of(raw: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hex."""
    return hashlib.sha256(raw).hexdigest()


def encode(text: str, encoding: str) -> bytes:
    """Return the bytes of a text, with the byte-order mark of the encoding.

    >>> encode("é", "utf-8-sig")
    b'\\xef\\xbb\\xbf\\xc3\\xa9'
    """
    return _MARKS.get(encoding, b"") + text.encode(_CODECS.get(encoding, encoding))


class UnencodableError(ValueError):
    """The encoding of a box can't write a letter; the message is the letter."""


@dataclass(frozen=True, slots=True)
class _Row:
    """One row: its first line, the number of its lines, and its cells."""

    line: int
    lines: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class BoxText:
    """The text of a box.

    Attributes
    ----------
    text : str
        With its own line ends, without a byte-order mark.
    encoding : str
        ``utf-8``, ``utf-8-sig``, ``utf-16-le``, ``utf-16-be`` or ``cp1252``.
    """

    text: str = NEW_BOX
    encoding: str = "utf-8"

    @classmethod
    def of(cls, raw: bytes, name: str) -> BoxText:
        """Decode the bytes of a file.

        Raises
        ------
        InputError
            When they are no CSV, or hold a byte that could not be encoded again.
        """
        text, encoding = decode(raw, name)
        if encoding == "cp1252" and _LOST in text:
            line = text.count("\n", 0, text.index(_LOST)) + 1
            problem = "holds a byte that is neither UTF-8 nor a letter of cp1252"
            raise InputError([Fault(Origin(name, line), problem, SAVE_AGAIN)])
        box = cls(check_text(text, name), encoding)
        try:
            _ = box.header
        except csv.Error as problem:
            remedy = "look for a quotation mark that is not closed, or save it again as CSV"
            raise InputError([Fault(Origin(name), f"is no CSV: {problem}", remedy)]) from None
        return box

    @property
    def raw(self) -> bytes:
        """The bytes of the file."""
        return encode(self.text, self.encoding)

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines, each with its end; only a line feed ends a line."""
        *whole, last = self.text.split("\n")
        return (*(f"{line}\n" for line in whole), *([last] if last else []))

    @cached_property
    def separator(self) -> str:
        """The separator of the cells."""
        return detect_separator(self.text)

    @cached_property
    def _records(self) -> tuple[_Row, ...]:
        return tuple(_rows(self.lines, self.separator))

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The columns' names as their owner writes them, without a spreadsheet guard."""
        if not self._records:
            return ()
        return tuple(unguard_formula(cell.strip()) for cell in self._records[0].cells)

    @cached_property
    def header(self) -> tuple[str, ...]:
        """The columns' names in lower case, as they are compared."""
        return tuple(name.lower() for name in self.columns)

    @cached_property
    def _places(self) -> dict[str, int]:
        if "item" not in self.header:
            return {}
        column = self.header.index("item")
        places: dict[str, int] = {}
        for place, row in enumerate(self._records[1:], start=1):
            name = plain(_cell(row.cells, column))
            if name:
                places.setdefault(name, place)
        return places

    def names(self) -> list[str]:
        """Return the items' names as they stand, in order."""
        column = self.header.index("item") if "item" in self.header else 0
        return [_cell(self._records[place].cells, column) for place in self._places.values()]

    def has(self, item: str) -> bool:
        """Tell whether a row bears that name."""
        return plain(item) in self._places

    def row(self, item: str) -> dict[str, str]:
        """Return the cells of an item that are not empty, by column in lower case."""
        cells = self._records[self._places[plain(item)]].cells
        named = {name: _cell(cells, place) for place, name in enumerate(self.header) if name}
        return {name: cell for name, cell in named.items() if cell}

    def with_cells(self, values: Mapping[str, Mapping[str, str]]) -> BoxText:
        """Return the text with cells of some items changed; missing columns are added.

        Parameters
        ----------
        values : mapping of item to mapping of column to cell
            The case of a column does not matter; a new one is written as it is given.

        Raises
        ------
        UnencodableError
            When the encoding can't write a letter.
        """
        wider = self._with_columns(dict.fromkeys(name for one in values.values() for name in one))
        rows = {}
        for item, changed in values.items():
            row = wider._records[wider._places[plain(item)]]
            cells = [*row.cells, *[""] * (len(wider.header) - len(row.cells))]
            for name, value in changed.items():
                cells[wider.header.index(name.lower())] = guard_formula(value)
            rows[row] = cells
        return wider._replace(rows)

    def with_new_rows(self, rows: Sequence[Mapping[str, str]]) -> BoxText:
        """Return the text with rows appended; missing columns are added.

        Raises
        ------
        UnencodableError
            When the encoding can't write a letter.
        """
        wider = self._with_columns(dict.fromkeys(name for row in rows for name in row))
        end = wider._end
        text = wider.text if not wider.text or wider.text.endswith("\n") else wider.text + end
        lower = [{name.lower(): cell for name, cell in row.items()} for row in rows]
        added = [
            wider._format([guard_formula(row.get(name, "")) for name in wider.header], end)
            for row in lower
        ]
        return BoxText(text + "".join(added), self.encoding)._check_encoding()

    def without_rows(self, items: Iterable[str]) -> BoxText:
        """Return the text without some items."""
        gone = {
            line
            for item in items
            for row in [self._records[self._places[plain(item)]]]
            for line in range(row.line, row.line + row.lines)
        }
        kept = [line for place, line in enumerate(self.lines) if place not in gone]
        return BoxText("".join(kept), self.encoding)

    def _with_columns(self, names: Iterable[str]) -> BoxText:
        wanted = list({name.lower(): guard_formula(name) for name in names}.values())
        lacking = [name for name in wanted if unguard_formula(name).lower() not in self.header]
        if not lacking:
            return self
        if not self._records:
            header = self._format(wanted, "\n")
            return BoxText(self.text + header, self.encoding)
        first = self._records[0]
        cells = list(first.cells)
        while cells and not cells[-1].strip():
            cells.pop()
        return self._replace({first: [*cells, *lacking]})

    def _replace(self, rows: Mapping[_Row, Sequence[str]]) -> BoxText:
        """Return the text with rows in place of others."""
        lines = []
        done = 0
        for row in sorted(rows, key=lambda row: row.line):
            last = self.lines[row.line + row.lines - 1]
            end = last[len(last.rstrip("\r\n")) :]
            lines += [*self.lines[done : row.line], self._format(rows[row], end)]
            done = row.line + row.lines
        return BoxText("".join([*lines, *self.lines[done:]]), self.encoding)._check_encoding()

    @property
    def _end(self) -> str:
        return "\r\n" if "\r\n" in self.text else "\n"

    def _format(self, cells: Sequence[str], end: str) -> str:
        line = io.StringIO(newline="")
        # A first cell that begins as a comment does is put in quotation marks.
        is_comment = bool(cells) and cells[0].startswith(_COMMENT)
        writer = csv.writer(
            line,
            delimiter=self.separator,
            lineterminator="",
            quoting=csv.QUOTE_ALL if is_comment else csv.QUOTE_MINIMAL,
        )
        writer.writerow(cells)
        return line.getvalue() + end

    def _check_encoding(self) -> BoxText:
        """Return the text, if its encoding can write it."""
        try:
            self.text.encode(_CODECS.get(self.encoding, self.encoding))
        except UnicodeEncodeError as problem:
            raise UnencodableError(problem.object[problem.start : problem.end][0]) from None
        return self


def _cell(cells: Sequence[str], place: int) -> str:
    return unguard_formula(cells[place].strip()) if place < len(cells) else ""


def _rows(lines: Sequence[str], separator: str) -> Iterator[_Row]:
    """Yield the rows that are neither comments nor empty, the header first."""
    first, waiting = 0, ""
    for place, line in enumerate(lines):
        if not waiting:
            if line.startswith(_COMMENT) or not line.strip():
                continue
            first = place
        waiting += line
        if waiting.count('"') % 2:
            continue
        cells = next(csv.reader(io.StringIO(waiting, newline=""), delimiter=separator), [])
        waiting = ""
        if any(cell.strip() for cell in cells):
            yield _Row(first, place - first + 1, tuple(cells))
