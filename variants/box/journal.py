"""The journal of a box: every change to it, one JSON object a line, only ever added to.

``box.csv.journal`` begins with the whole text of the box and then tells each change twice: by items
and cells, as a person thinks of it, and by lines, so that the box can be built again from the
journal to the last byte. Lines are numbered, and each bears a checksum over itself and the one
before, so that a change or a loss in the middle shows. The order is that of the numbers; times are
what the clock said.
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from variants.box.entries import Entry, checksum_of, entry_of, record_of
from variants.box.paths import real_path
from variants.box.pieces import with_pieces
from variants.box.replacing import NEW
from variants.box.texts import BoxText, cut, sum_of
from variants.box.writing import make_like, settle_folder, write_down
from variants.model import Origin, plain
from variants.reading import Fault, InputError

JOURNAL = ".journal"
#: A journal of so many bytes is no longer one: a change takes some hundred.
_LARGEST = 512 * 1024 * 1024
#: What the first entry and one about an edit by hand are called.
BEGUN, BY_HAND = "begun", "edited by hand"


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
