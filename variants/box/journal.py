"""The journal of a box: an append-only log of its changes, one JSON object a line.

``box.csv.journal`` begins with the whole text of the box; each entry then holds the cells that
changed, item by item. Changes applied in order make the box again to the last byte. An edit by hand
may touch comments and order too, which no cell tells, so its entry holds the whole text again: a
checkpoint, from which a replay starts. Every `CHECKPOINT`-th entry is one too, to keep a replay
short. Entries are numbered, and each bears a checksum over itself and the checksum of the one
before, so that a changed or a missing line is detected. The order is that of the numbers; times are
what the clock said.
"""

from __future__ import annotations

import csv
import json
import os
import stat
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from variants.box.atomic_replace import NEW
from variants.box.atomic_write import copy_permissions, sync_folder, write_and_sync
from variants.box.box_text import BoxText, sha256_of
from variants.box.changes import apply_changes
from variants.box.journal_entry import (
    JournalEntry,
    compute_checksum,
    entry_from_record,
    record_from_entry,
)
from variants.box.paths import real_path
from variants.model import Origin, plain
from variants.reading import Fault, InputError

JOURNAL = ".journal"
CHECKPOINT = 100
#: A larger file is not read as a journal: a change takes some hundred bytes.
_LARGEST = 512 * 1024 * 1024
#: What the first entry, and one about an edit by hand, are called.
BEGUN, BY_HAND = "begun", "edited by hand"


def journal_path(box: Path) -> Path:
    """Return the path of the journal of a box."""
    return Path(f"{box}{JOURNAL}")


@dataclass(frozen=True, slots=True)
class Journal:
    """The valid part of a journal.

    Attributes
    ----------
    entries : tuple of JournalEntry
    length : int
        Of their lines, in bytes; a torn last line comes after it.
    fault : Fault or None
        What is wrong with the next line.
    """

    entries: tuple[JournalEntry, ...] = ()
    length: int = 0
    fault: Fault | None = None

    @property
    def checksum(self) -> str:
        """The checksum of the last entry."""
        return self.entries[-1].checksum if self.entries else ""


def load_journal(box: Path) -> Journal:
    """Read the journal of a box up to the first invalid line.

    A torn last line, which a machine that stopped leaves, is skipped and is no fault.

    Raises
    ------
    InputError
        When the file can't be read at all.
    """
    path = journal_path(box)
    entries: list[JournalEntry] = []
    lines: list[str] = []
    checksum, length = "", 0
    for number, line in enumerate(_read_bytes(path, box).split(b"\n")[:-1], start=1):
        try:
            record = json.loads(line)
            entry = _with_text(entry_from_record(record), record, lines)
            is_valid = entry.number == number
            is_valid = is_valid and entry.checksum == compute_checksum(record, checksum)
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            is_valid = False
        if not is_valid:
            fault = Fault(
                Origin(str(path), number),
                "this line does not fit its checksum: it was changed, or lines are lost",
                f"run 'flykin check --box {box}': it tells what can be done",
            )
            return Journal(tuple(entries), length, fault)
        entries.append(entry)
        checksum = entry.checksum
        length += len(line) + 1
    return Journal(tuple(entries), length)


def _with_text(entry: JournalEntry, record: Mapping[str, Any], lines: list[str]) -> JournalEntry:
    """Return an entry with its text where Flykin 0.1 wrote an edit by hand as pieces of lines.

    `lines` are those of the box before the entry, and after it when this returns.
    """
    if entry.text is not None:
        lines[:] = BoxText(entry.text).lines
    for first, removed, added in reversed(record.get("pieces", ())):
        lines[first : first + len(removed)] = added
    is_without = entry.what == BY_HAND and entry.text is None
    return replace(entry, text="".join(lines)) if is_without else entry


def _read_bytes(path: Path, box: Path) -> bytes:
    """Return the content of a journal's file; nothing where there is none."""
    if not os.path.lexists(path):
        return b""
    remedy = f"'flykin check --box {box} --new-journal' sets it aside and begins another"
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise InputError([Fault(Origin(str(path)), "is no file that holds a journal", remedy)])
        if status.st_size > _LARGEST:
            raise InputError([Fault(Origin(str(path)), "is larger than 512 MB", remedy)])
        return path.read_bytes()
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        raise InputError([Fault(Origin(str(path)), f"can't be read: {reason}", remedy)]) from None


def load_valid_journal(box: Path) -> Journal:
    """Read the journal of a box.

    Raises
    ------
    InputError
        When it can't be read, or a line does not fit its checksum or its number.
    """
    journal = load_journal(box)
    if journal.fault is not None:
        raise InputError([journal.fault])
    return journal


def read_journal(box: str | Path) -> list[JournalEntry]:
    """Return the entries of a box's journal, oldest first; none where there is no journal.

    Raises
    ------
    InputError
        When it can't be read, or a line does not fit its checksum or its number.
    """
    return list(load_valid_journal(real_path(box)).entries)


def append(box: Path, entry: JournalEntry, journal: Journal) -> Journal:
    """Write an entry to the end of a box's journal, synced to the disk.

    Parameters
    ----------
    box : Path
    entry : JournalEntry
        Without a checksum.
    journal : Journal
        As read from the disk.

    Returns
    -------
    Journal
        With the entry and its checksum.

    Raises
    ------
    OSError
        When it can't be written; the file then has its length of before.
    """
    path = journal_path(box)
    record = record_from_entry(entry)
    checksum = compute_checksum(record, journal.checksum)
    line = json.dumps({**record, "checksum": checksum}, ensure_ascii=False) + "\n"
    raw = line.encode("utf-8", "surrogatepass")
    is_new = not path.is_file()
    handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
    try:
        os.ftruncate(handle, journal.length)  # a torn last line goes
        os.lseek(handle, journal.length, os.SEEK_SET)
        write_and_sync(handle, raw)
    except BaseException:
        os.ftruncate(handle, journal.length)
        raise
    finally:
        os.close(handle)
    copy_permissions(box if box.exists() else Path(f"{box}{NEW}"), path)
    if is_new:
        sync_folder(path.parent)
    appended = replace(entry, checksum=checksum)
    return Journal((*journal.entries, appended), journal.length + len(raw))


def truncate(box: Path, length: int) -> None:
    """Cut a journal back to a length in bytes: the rollback of `append`. Writes."""
    path = journal_path(box)
    if not length:
        path.unlink()
        return
    with open(path, "r+b") as file:
        file.truncate(length)
        os.fsync(file.fileno())


def replay(entries: Iterable[JournalEntry]) -> tuple[BoxText | None, JournalEntry | None]:
    """Make a box again from its journal.

    Parameters
    ----------
    entries : iterable of JournalEntry
        The first one is a checkpoint.

    Returns
    -------
    box : BoxText or None
        After the last entry that leads to the file whose SHA-256 it states; None without any.
    invalid : JournalEntry or None
        The first entry that does not.
    """
    box = None
    for entry in entries:
        try:
            if entry.text is not None:
                after = BoxText(entry.text, entry.encoding)
            else:
                after = apply_changes(box or BoxText("", entry.encoding), entry.changes, "")
            _ = after.header  # is it CSV?
            is_valid = sha256_of(after.raw) == entry.box
        except (InputError, ValueError, LookupError, csv.Error):
            is_valid = False
        if not is_valid:
            return box, entry
        box = after
    return box, None


def replay_last(entries: Sequence[JournalEntry]) -> BoxText | None:
    """Make a box again from the last checkpoint of its journal; None when it does not add up."""
    checkpoints = [place for place, entry in enumerate(entries) if entry.text is not None]
    box, invalid = replay(entries[checkpoints[-1] if checkpoints else 0 :])
    return None if invalid else box


def exact_amounts(entries: Iterable[JournalEntry]) -> dict[str, Decimal]:
    """Return the exact amounts of items whose cell holds a rounded one, by plain name.

    Each is in the unit of its cell.
    """
    exact: dict[str, Decimal] = {}
    for entry in entries:
        for change in entry.changes:
            name = plain(change.item)
            amount = exact.pop(name, None)
            after = change.after
            if after is None:
                continue
            if change.exact is not None:
                amount = Decimal(change.exact[1])
            elif change.before is None or "amount" in after:
                amount = None
            if amount is not None:
                exact[plain(after.get("item") or change.item)] = amount
    return exact
