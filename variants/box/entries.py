"""One line of a journal: an entry, as JSON and back, and the checksum that ties it to the last.

A line comes from a file that anybody may have written to: all in it is looked at, and what is not
of its type is refused.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from variants.box.changes import Change
from variants.box.pieces import Piece
from variants.box.texts import ENCODINGS

Kind = TypeVar("Kind")
_DECIMAL = re.compile(r"[0-9]{1,20}(?:\.[0-9]{1,40})?")


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a journal.

    Attributes
    ----------
    number : int
        From 1.
    at : str
        What the clock said, in UTC.
    what : str
        What was done, such as ``use``, ``batch``, ``edited by hand``.
    note : str
        What for, in the owner's words.
    changes : tuple of Change
    pieces : tuple
        What became of the lines of the file.
    encoding : str
        How the letters of the file are written from here on.
    box : str
        SHA-256 of the box after it.
    undoes : int or None
        The number of the entry that it takes back.
    text : str or None
        Of the first entry: the whole box.
    checksum : str
    """

    number: int
    at: str
    what: str
    note: str
    changes: tuple[Change, ...]
    pieces: tuple[Piece, ...]
    encoding: str
    box: str
    undoes: int | None = None
    text: str | None = None
    checksum: str = ""


def record_of(entry: Entry) -> dict[str, Any]:
    """Return an entry as its line holds it, without the checksum."""
    told: dict[str, Any] = {
        "number": entry.number,
        "at": entry.at,
        "what": entry.what,
        "note": entry.note,
        "changes": [change.record() for change in entry.changes],
        "pieces": [[line, list(went), list(came)] for line, went, came in entry.pieces],
        "encoding": entry.encoding,
        "box": entry.box,
    }
    if entry.undoes is not None:
        told["undoes"] = entry.undoes
    if entry.text is not None:
        told["text"] = entry.text
    return told


def entry_of(record: Mapping[str, Any]) -> Entry:
    """Return the entry that a line holds.

    Raises
    ------
    KeyError, TypeError, ValueError
        When it is none.
    """
    encoding = _is(str, record["encoding"])
    if encoding not in ENCODINGS:
        raise ValueError(encoding)
    undoes, text = record.get("undoes"), record.get("text")
    return Entry(
        number=_is(int, record["number"]),
        at=_is(str, record["at"]),
        what=_is(str, record["what"]),
        note=_is(str, record["note"]),
        changes=tuple(_change_of(one) for one in _is(list, record["changes"])),
        pieces=tuple(
            (_is(int, line), _texts(went), _texts(came))
            for line, went, came in _is(list, record["pieces"])
        ),
        encoding=encoding,
        box=_is(str, record["box"]),
        undoes=None if undoes is None else _is(int, undoes),
        text=None if text is None else _is(str, text),
        checksum=_is(str, record["checksum"]),
    )


def _is(kind: type[Kind], value: object) -> Kind:
    """Return a value that is of a type; another one is no part of a journal."""
    if not isinstance(value, kind):
        raise TypeError(value)
    return value


def _texts(value: object) -> tuple[str, ...]:
    return tuple(_is(str, one) for one in _is(list, value))


def _cells(value: object) -> dict[str, str] | None:
    if value is None:
        return None
    return {_is(str, name): _is(str, cell) for name, cell in _is(dict, value).items()}


def _number(text: str) -> Decimal:
    if not _DECIMAL.fullmatch(text):
        raise ValueError(text)
    return Decimal(text)


def _change_of(record: object) -> Change:
    told = _is(dict, record)
    exact = None
    if told.get("exact") is not None:
        before, after = _texts(told["exact"])
        # No number, or one without end, is refused as any other spoilt line.
        exact = f"{_number(before):f}", f"{_number(after):f}"
    change = Change(_is(str, told["item"]), _cells(told["before"]), _cells(told["after"]), exact)
    if change.before is None and change.after is None:
        raise ValueError(change.item)
    return change


def checksum_of(record: Mapping[str, Any], before: str) -> str:
    """Return the checksum of a line after the one whose checksum is given."""
    rest = {name: value for name, value in record.items() if name != "checksum"}
    told = json.dumps(rest, sort_keys=True, ensure_ascii=False) + before
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()
