"""A box file as it can be edited: every line that an edit doesn't touch stays byte for byte.

Bytes come in and bytes go out, in the letters, with the separator and the line ends that their
owner's spreadsheet wrote. Rows are known by the item's name; columns of the owner's own, comments,
empty rows and the order stay. What the cells mean is not looked at here.
"""

from __future__ import annotations

import csv
import hashlib
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from variants.model import plain
from variants.reading import COLUMNS
from variants.reading.files import checked_text
from variants.reading.sheets import decoded, guarded, separator_of, unguarded

#: What may stand before the text of a file, and how its letters are written.
_MARKS = {"utf-8-sig": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
_CODECS = {"utf-8-sig": "utf-8"}
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
            When they are no text.
        """
        text, encoding = decoded(raw, name)
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
    def header(self) -> tuple[str, ...]:
        """The columns' names, in lower case."""
        if not self._records:
            return ()
        return tuple(cell.strip().lower() for cell in self._records[0].cells)

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

    def with_row(self, item: str, values: Mapping[str, str]) -> BoxText:
        """Return the text with some cells of an item changed; columns that lack are added."""
        wider = self._with_columns(values)
        row = wider._records[wider._places[plain(item)]]
        cells = [*row.cells, *[""] * (len(wider.header) - len(row.cells))]
        for name, value in values.items():
            cells[wider.header.index(name)] = guarded(value)
        return wider._replaced(row, cells)

    def with_new_row(self, values: Mapping[str, str]) -> BoxText:
        """Return the text with a row after all others; columns that lack are added."""
        wider = self._with_columns(values)
        end = wider._end
        text = wider.text if not wider.text or wider.text.endswith("\n") else wider.text + end
        cells = [guarded(values.get(name, "")) for name in wider.header]
        return BoxText(text + wider._written(cells, end), self.encoding)._writable()

    def without_row(self, item: str) -> BoxText:
        """Return the text without an item."""
        row = self._records[self._places[plain(item)]]
        lines = [*self.lines[: row.line], *self.lines[row.line + row.lines :]]
        return BoxText("".join(lines), self.encoding)

    def _with_columns(self, values: Mapping[str, str]) -> BoxText:
        lacking = [name for name in values if name not in self.header]
        if not lacking:
            return self
        if not self._records:
            header = self._written([*values], "\n")
            return BoxText(self.text + header, self.encoding)
        first = self._records[0]
        cells = list(first.cells)
        while cells and not cells[-1].strip():
            cells.pop()
        return self._replaced(first, [*cells, *lacking])

    def _replaced(self, row: _Row, cells: Sequence[str]) -> BoxText:
        last = self.lines[row.line + row.lines - 1]
        end = last[len(last.rstrip("\r\n")) :]
        lines = [
            *self.lines[: row.line],
            self._written(cells, end),
            *self.lines[row.line + row.lines :],
        ]
        return BoxText("".join(lines), self.encoding)._writable()

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
        """Return the text in letters that can hold it: UTF-8 where its own can't."""
        try:
            self.text.encode(_CODECS.get(self.encoding, self.encoding))
        except UnicodeEncodeError:
            return BoxText(self.text, "utf-8-sig")
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
