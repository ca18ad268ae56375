"""The journal of a box: every change to it, one JSON object a line, only ever added to.

``box.csv.journal`` begins with the whole text of the box and then tells each change twice: by items
and cells, as a person thinks of it, and by lines, so that the box can be built again from the
journal to the last byte. Lines are numbered, and each bears a checksum over itself and the one
before, so that a change or a loss in the middle shows. The order is that of the numbers; times are
what the clock said.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

from variants.keeping.changes import Change
from variants.keeping.paths import real_path
from variants.keeping.pieces import Piece, with_pieces
from variants.keeping.replacing import NEW
from variants.keeping.texts import ENCODINGS, BoxText, cut, sum_of
from variants.keeping.writing import make_like, settle_folder, write_down
from variants.model import Origin, plain
from variants.reading import Fault, InputError

Kind = TypeVar("Kind")
JOURNAL = ".journal"
_DECIMAL = re.compile(r"[0-9]{1,20}(?:\.[0-9]{1,40})?")
#: A journal of so many bytes is no longer one: a change takes some hundred.
_LARGEST = 512 * 1024 * 1024
#: What the first entry and one about an edit by hand are called.
BEGUN, BY_HAND = "begun", "edited by hand"


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


def journal_path(box: Path) -> Path:
    """Return where the journal of a box stands."""
    return Path(f"{box}{JOURNAL}")


@dataclass(frozen=True, slots=True)
class Journal:
    """What a journal holds, as far as it is right.

    Attributes
    ----------
    entries : tuple of Entry
    length : int
        Of their lines, in bytes; what follows was cut short.
    fault : Fault or None
        Why the next line is not right.
    """

    entries: tuple[Entry, ...] = ()
    length: int = 0
    fault: Fault | None = None

    @property
    def checksum(self) -> str:
        """The checksum of the last entry."""
        return self.entries[-1].checksum if self.entries else ""


def read_entries(box: Path) -> Journal:
    """Return what a box's journal holds, up to the first line that is not right.

    A last line that was cut short, by a machine that stopped, is left out and is no fault.

    Raises
    ------
    InputError
        When the journal can't be read at all.
    """
    path = journal_path(box)
    raw = _bytes(path, box)
    entries: list[Entry] = []
    before, length = "", 0
    for place, line in enumerate(raw.split(b"\n")[:-1], start=1):
        try:
            record = json.loads(line)
            entry = entry_of(record)
            is_right = entry.number == place and entry.checksum == checksum_of(record, before)
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            is_right = False
        if not is_right:
            fault = Fault(
                Origin(str(path), place),
                "this line does not fit its checksum: it was changed, or lines are lost",
                f"run 'flykin check --box {box}': it tells what can be done",
            )
            return Journal(tuple(entries), length, fault)
        entries.append(entry)
        before = entry.checksum
        length += len(line) + 1
    return Journal(tuple(entries), length)


def _bytes(path: Path, box: Path) -> bytes:
    """Return what a journal's file holds; nothing where there is none."""
    if not os.path.lexists(path):
        return b""
    anew = f"'flykin check --box {box} --new-journal' sets it aside and begins another"
    try:
        known = path.stat()
        if not stat.S_ISREG(known.st_mode):
            raise InputError([Fault(Origin(str(path)), "is no file that holds a journal", anew)])
        if known.st_size > _LARGEST:
            raise InputError([Fault(Origin(str(path)), "is larger than 512 MB", anew)])
        return path.read_bytes()
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        fault = Fault(Origin(str(path)), f"can't be read: {reason}", anew)
        raise InputError([fault]) from None


def sound_journal(box: Path) -> Journal:
    """Return what a box's journal holds.

    Raises
    ------
    InputError
        When a line in it does not fit its checksum or its place.
    """
    journal = read_entries(box)
    if journal.fault is not None:
        raise InputError([journal.fault])
    return journal


def read_journal(box: str | Path) -> list[Entry]:
    """Return the entries of a box's journal; none where there is no journal.

    Raises
    ------
    InputError
        When a line in it does not fit its checksum or its place.
    """
    return list(sound_journal(real_path(box)).entries)


def append(box: Path, entry: Entry, journal: Journal) -> Journal:
    """Add an entry to the journal of a box, down to the disk.

    Parameters
    ----------
    box : Path
    entry : Entry
    journal : Journal
        As it is.

    Returns
    -------
    Journal
        As it is then; `cut_back` takes it back to its length before.

    Raises
    ------
    OSError
        When it can't be written; it is then as long as before.
    """
    path = journal_path(box)
    record = record_of(entry)
    checksum = checksum_of(record, journal.checksum)
    line = json.dumps({**record, "checksum": checksum}, ensure_ascii=False) + "\n"
    raw = line.encode("utf-8", "surrogatepass")
    is_new = not path.is_file()
    handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
    try:
        os.ftruncate(handle, journal.length)  # what follows was cut short
        os.lseek(handle, journal.length, os.SEEK_SET)
        write_down(handle, raw)
    except BaseException:
        os.ftruncate(handle, journal.length)
        raise
    finally:
        os.close(handle)
    make_like(path, box if box.exists() else Path(f"{box}{NEW}"))
    if is_new:
        settle_folder(path.parent)
    done = replace(entry, checksum=checksum)
    return Journal((*journal.entries, done), journal.length + len(raw))


def cut_back(box: Path, length: int) -> None:
    """Take back what `append` has just added."""
    path = journal_path(box)
    if not length:
        path.unlink()
        return
    with open(path, "r+b") as file:
        file.truncate(length)
        os.fsync(file.fileno())


def exact_amounts(entries: Iterable[Entry]) -> dict[str, Decimal]:
    """Return the exact amounts of items by plain name, of those whose cell tells a rounded one."""
    exact: dict[str, Decimal] = {}
    for entry in entries:
        for change in entry.changes:
            name = plain(change.item)
            known = exact.pop(name, None)
            after = change.after
            if after is None:
                continue
            if change.exact is not None:
                known = Decimal(change.exact[1])
            elif change.before is None or "amount" in after:
                known = None
            if known is not None:
                exact[plain(after.get("item") or change.item)] = known
    return exact


def rebuilt(entries: Sequence[Entry]) -> BoxText | None:
    """Return the box as the journal tells it; None without entries.

    Raises
    ------
    ValueError
        When what it tells does not add up, with the number of the entry.
    """
    lines: list[str] = []
    for entry in entries:
        lines = list(cut(entry.text)) if entry.text is not None else lines
        lines = with_pieces(lines, entry.pieces)
    if not entries:
        return None
    box = BoxText("".join(lines), entries[-1].encoding)
    if sum_of(box.raw) != entries[-1].box:
        raise ValueError(entries[-1].number)
    return box
