"""A box file as it can be edited: every line that an edit doesn't touch stays byte for byte.

Bytes come in and bytes go out, in the letters, with the separator and the line ends that their
owner's spreadsheet wrote. Rows are known by the item's name; columns of the owner's own, comments,
empty rows and the order stay. What the cells mean is not looked at here.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from variants.model import Origin, plain
from variants.reading import COLUMNS, Fault, InputError, checked_text
from variants.reading.sheets import decoded, guarded, separator_of, unguarded

#: What may stand before the text of a file, and how its letters are written.
_MARKS = {"utf-8-sig": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
_CODECS = {"utf-8-sig": "utf-8"}
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16-le", "utf-16-be", "cp1252")
SAVE_AGAIN = "save the box again as UTF-8 in your spreadsheet, then give the command again"
#: What a byte is read as that means nothing.
_LOST = "\N{REPLACEMENT CHARACTER}"
_COMMENT = "#"
NEW_BOX = ",".join(COLUMNS) + "\n"


def sum_of(raw: bytes) -> str:
    """Return the SHA-256 of a file's bytes, in hex."""
    return hashlib.sha256(raw).hexdigest()


def encoded(text: str, encoding: str) -> bytes:
    """Return a text's bytes, with the mark that the encoding begins with.

    >>> encoded("é", "utf-8-sig")
    b'\\xef\\xbb\\xbf\\xc3\\xa9'
    """
    return _MARKS.get(encoding, b"") + text.encode(_CODECS.get(encoding, encoding))


def cut(text: str) -> tuple[str, ...]:
    """Return a text's lines, each with its end; only line feeds end a line.

    >>> cut("a\\r\\nb")
    ('a\\r\\n', 'b')
    """
    *whole, last = text.split("\n")
    lines = [f"{line}\n" for line in whole]
    return tuple([*lines, last] if last else lines)


class LettersError(ValueError):
    """A letter that the encoding of a box can't write; the text is the letter."""


@dataclass(frozen=True, slots=True)
class _Row:
    """One row: from which line, over how many, its cells."""

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
        """Return the text of a file's bytes.

        Raises
        ------
        InputError
            When they are no text, or bytes among them could not be written again.
        """
        text, encoding = decoded(raw, name)
        if encoding == "cp1252" and _LOST in text:
            line = text.count("\n", 0, text.index(_LOST)) + 1
            problem = "holds a byte that is neither UTF-8 nor a letter of cp1252"
            raise InputError([Fault(Origin(name, line), problem, SAVE_AGAIN)])
        return cls(checked_text(text, name), encoding)

    @property
    def raw(self) -> bytes:
        """The bytes of the file."""
        return encoded(self.text, self.encoding)

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines, each with its end."""
        return cut(self.text)

    @cached_property
    def separator(self) -> str:
        """What parts the cells."""
        return separator_of(self.text)

    @cached_property
    def _records(self) -> tuple[_Row, ...]:
        return tuple(_rows(self.lines, self.separator))

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The columns' names as their owner writes them, and as they are meant."""
        if not self._records:
            return ()
        return tuple(unguarded(cell.strip()) for cell in self._records[0].cells)

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
        """Return the cells of an item that are not empty, by column, as they are meant."""
        cells = self._records[self._places[plain(item)]].cells
        told = {name: _cell(cells, place) for place, name in enumerate(self.header) if name}
        return {name: cell for name, cell in told.items() if cell}

    def with_cells(self, values: Mapping[str, Mapping[str, str]]) -> BoxText:
        """Return the text with some cells of some items changed; columns that lack are added.

        Parameters
        ----------
        values : mapping of item to mapping of column to cell
            A column is the same in capitals or not; a new one keeps those it is given.
        """
        wider = self._with_columns(dict.fromkeys(name for one in values.values() for name in one))
        rows = {}
        for item, cells_told in values.items():
            row = wider._records[wider._places[plain(item)]]
            cells = [*row.cells, *[""] * (len(wider.header) - len(row.cells))]
            for name, value in cells_told.items():
                cells[wider.header.index(name.lower())] = guarded(value)
            rows[row] = cells
        return wider._replaced(rows)

    def with_new_rows(self, rows: Sequence[Mapping[str, str]]) -> BoxText:
        """Return the text with rows after all others; columns that lack are added."""
        wider = self._with_columns(dict.fromkeys(name for row in rows for name in row))
        end = wider._end
        text = wider.text if not wider.text or wider.text.endswith("\n") else wider.text + end
        told = [{name.lower(): cell for name, cell in row.items()} for row in rows]
        added = [
            wider._written([guarded(row.get(name, "")) for name in wider.header], end)
            for row in told
        ]
        return BoxText(text + "".join(added), self.encoding)._writable()

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
        wanted = list({name.lower(): guarded(name) for name in names}.values())
        lacking = [name for name in wanted if unguarded(name).lower() not in self.header]
        if not lacking:
            return self
        if not self._records:
            header = self._written(wanted, "\n")
            return BoxText(self.text + header, self.encoding)
        first = self._records[0]
        cells = list(first.cells)
        while cells and not cells[-1].strip():
            cells.pop()
        return self._replaced({first: [*cells, *lacking]})

    def _replaced(self, rows: Mapping[_Row, Sequence[str]]) -> BoxText:
        """Return the text with rows in place of others."""
        lines = []
        done = 0
        for row in sorted(rows, key=lambda row: row.line):
            last = self.lines[row.line + row.lines - 1]
            end = last[len(last.rstrip("\r\n")) :]
            lines += [*self.lines[done : row.line], self._written(rows[row], end)]
            done = row.line + row.lines
        return BoxText("".join([*lines, *self.lines[done:]]), self.encoding)._writable()

    @property
    def _end(self) -> str:
        return "\r\n" if "\r\n" in self.text else "\n"

    def _written(self, cells: Sequence[str], end: str) -> str:
        written = io.StringIO(newline="")
        # A first cell that begins as a comment does is put in quotation marks.
        is_comment = bool(cells) and cells[0].startswith(_COMMENT)
        writer = csv.writer(
            written,
            delimiter=self.separator,
            lineterminator="",
            quoting=csv.QUOTE_ALL if is_comment else csv.QUOTE_MINIMAL,
        )
        writer.writerow(cells)
        return written.getvalue() + end

    def _writable(self) -> BoxText:
        """Return the text, if it can be written in its letters."""
        try:
            self.text.encode(_CODECS.get(self.encoding, self.encoding))
        except UnicodeEncodeError as problem:
            raise LettersError(problem.object[problem.start : problem.end][0]) from None
        return self


def _cell(cells: Sequence[str], place: int) -> str:
    return unguarded(cells[place].strip()) if place < len(cells) else ""


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
