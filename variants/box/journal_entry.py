"""One entry of a box's journal: its JSON record, read and written, and its checksum.

A journal is a file that anybody may have written to, so a record is validated field by field.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from variants.box.box_text import ENCODINGS
from variants.box.changes import ItemChange

_Kind = TypeVar("_Kind")
_DECIMAL = re.compile(r"[0-9]{1,20}(?:\.[0-9]{1,40})?")


@dataclass(frozen=True, slots=True)
class JournalEntry:
    """One committed change of a box.

    Attributes
    ----------
    number : int
        From 1.
    at : str
        When, in UTC by the clock of the machine, in ISO 8601.
    what : str
        The operation, such as ``use``, ``batch``, ``edited by hand``.
    note : str
        The owner's note.
    changes : tuple of ItemChange
        In the order in which they apply.
    encoding : str
        Of the file after it.
    box : str
        SHA-256 of the file after it.
    undoes : int or None
        The number of the entry that it takes back.
    text : str or None
        The whole file after it, at a checkpoint: where the changes alone don't lead to it, and
        now and then.
    checksum : str
        SHA-256 over this entry and the checksum of the one before.
    """

    number: int
    at: str
    what: str
    note: str
    changes: tuple[ItemChange, ...]
    encoding: str
    box: str
    undoes: int | None = None
    text: str | None = None
    checksum: str = ""


def record_from_entry(entry: JournalEntry) -> dict[str, Any]:
    """Return the JSON record of an entry, without the checksum."""
    record: dict[str, Any] = {
        "number": entry.number,
        "at": entry.at,
        "what": entry.what,
        "note": entry.note,
        "changes": [change.record() for change in entry.changes],
        "encoding": entry.encoding,
        "box": entry.box,
    }
    optional = {"undoes": entry.undoes, "text": entry.text}
    return record | {name: value for name, value in optional.items() if value is not None}


def entry_from_record(record: Mapping[str, Any]) -> JournalEntry:
    """Validate a JSON record and return its entry.

    Raises
    ------
    KeyError, TypeError, ValueError
        When a field is missing, of the wrong type, or out of range.
    """
    encoding = _require(str, record["encoding"])
    if encoding not in ENCODINGS:
        raise ValueError(encoding)
    number, undoes, text = record["number"], record.get("undoes"), record.get("text")
    if undoes is not None and not 0 < _require(int, undoes) < _require(int, number):
        raise ValueError(undoes)
    return JournalEntry(
        number=_require(int, number),
        at=_require(str, record["at"]),
        what=_require(str, record["what"]),
        note=_require(str, record["note"]),
        changes=tuple(_read_change(one) for one in _require(list, record["changes"])),
        encoding=encoding,
        box=_require(str, record["box"]),
        undoes=undoes,
        text=None if text is None else _require(str, text),
        checksum=_require(str, record["checksum"]),
    )


def _require(kind: type[_Kind], value: object) -> _Kind:
    if not isinstance(value, kind):
        raise TypeError(value)
    return value


def _read_cells(value: object) -> dict[str, str] | None:
    if value is None:
        return None
    cells = _require(dict, value).items()
    return {_require(str, name): _require(str, cell) for name, cell in cells}


def _read_exact(value: object) -> str:
    text = _require(str, value)
    if not _DECIMAL.fullmatch(text):
        raise ValueError(text)
    return f"{Decimal(text):f}"


def _read_change(value: object) -> ItemChange:
    record = _require(dict, value)
    exact = None
    if record.get("exact") is not None:
        before, after = _require(list, record["exact"])
        exact = _read_exact(before), _read_exact(after)
    item = _require(str, record["item"])
    change = ItemChange(item, _read_cells(record["before"]), _read_cells(record["after"]), exact)
    if change.before is None and change.after is None:
        raise ValueError(change.item)
    return change


def compute_checksum(record: Mapping[str, Any], previous: str) -> str:
    """Return the SHA-256, in hex, of a record and the checksum of the record before it."""
    rest = {name: value for name, value in record.items() if name != "checksum"}
    content = json.dumps(rest, sort_keys=True, ensure_ascii=False) + previous
    return hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()
