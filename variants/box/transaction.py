"""A change to a box file as a transaction: under a lock, atomic, and durable.

`commit` writes the new file beside the present one (``box.csv.new``) and a mark
``box.csv.pending`` with the number of the entry, so that whatever takes room is on the disk first.
The entry is then appended to the journal: the commit point. Then the new file replaces the present
one, which becomes ``box.csv.previous`` (`atomic_replace`), and the mark goes. When the present file
turns out to be another than was read, the entry is rolled back and the caller begins anew.

`recover`, with which every command begins, finds the mark of an interrupted commit: it finishes the
commit where the journal holds its entry, and rolls it back where not. Where the box differs from
the journal's last entry, it records a hand edit. An edit that was saved at the last moment, into
the file that was just replaced, is found in ``box.csv.previous`` and kept under a backup name.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from decimal import Decimal
from functools import cached_property
from pathlib import Path

from variants.box.atomic_replace import (
    NEW,
    OLD,
    PREVIOUS,
    ConcurrentEditError,
    edit_kept_error,
    replace_box,
    restore_moved,
    set_aside,
)
from variants.box.atomic_write import copy_permissions, write_and_sync
from variants.box.box_text import BoxText, sha256_of
from variants.box.changes import ItemChange, diff_boxes
from variants.box.journal import (
    BEGUN,
    BY_HAND,
    CHECKPOINT,
    Journal,
    append,
    exact_amounts,
    journal_path,
    load_valid_journal,
    replay_last,
    truncate,
)
from variants.box.journal_entry import JournalEntry
from variants.model import Origin
from variants.reading import Fault, InputError, read_bytes

LOCK, PENDING = ".lock", ".pending"
#: How long a command waits for the lock.
LOCK_TIMEOUT_S = 10.0


@dataclass(frozen=True)
class BoxState:
    """A box file as read, with its journal; `raw` is None where there is no file yet."""

    path: Path
    raw: bytes | None
    text: BoxText
    journal: Journal

    @property
    def entries(self) -> tuple[JournalEntry, ...]:
        """The entries of its journal."""
        return self.journal.entries

    @cached_property
    def exact(self) -> dict[str, Decimal]:
        """The exact amounts of items whose cell holds a rounded one, by plain name."""
        return exact_amounts(self.entries)

    @property
    def version(self) -> str:
        """The SHA-256 of the file."""
        return sha256_of(self.raw or b"")

    @property
    def is_edited(self) -> bool:
        """Whether the file is another than the journal's last entry states."""
        return bool(self.entries) and self.entries[-1].box != self.version


@contextmanager
def lock_box(path: Path) -> Iterator[None]:
    """Hold the lock of a box; trouble with files inside becomes one clear error.

    Raises
    ------
    InputError
        When another process holds it for `LOCK_TIMEOUT_S`, or a file can't be written.
    """
    from filelock import FileLock, Timeout

    if not path.parent.is_dir():
        # The lock would make the folder.
        problem = "there is no such folder"
        raise box_error(path, problem, "check the name, or make the folder first")
    try:
        with FileLock(f"{path}{LOCK}", timeout=LOCK_TIMEOUT_S):
            yield
    except Timeout:
        raise box_error(path, "another command is at work on the box", "try again") from None
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        remedy = "check the folder and the room on the disk; the box is as it was"
        raise box_error(path, f"can't be written: {reason}", remedy) from None


def missing_box_error(path: Path) -> InputError:
    """Return the error that says that there is no box of that name."""
    return box_error(path, "there is no such file", "check the name and the folder")


def box_error(path: Path, problem: str, remedy: str) -> InputError:
    """Return an error about a box as a file."""
    return InputError([Fault(Origin(str(path)), problem, remedy)])


def exists(path: Path) -> bool:
    """Tell whether there is a box, or at least the journal of one."""
    return path.exists() or journal_path(path).exists()


def recover(path: Path, *, may_begin: bool = False) -> BoxState:
    """Finish or roll back an interrupted commit, record a hand edit, and return the state.

    Writes; the caller holds the lock.

    Parameters
    ----------
    path : Path
    may_begin : bool
        Whether a missing box is taken for an empty one.

    Raises
    ------
    InputError
        When the box can't be read, is missing though it has a journal, or the journal is damaged;
        or an edit had to be moved to a backup name, which the error tells.
    OSError
        When something can't be written.
    """
    journal = load_valid_journal(path)
    _finish_commit(path, journal.entries)
    _keep_late_edit(path, journal.entries)
    raw = _read_bytes(path)
    if raw is None:
        return _begin_box(path, journal.entries, may_begin)
    state = BoxState(path, raw, BoxText.of(raw, str(path)), journal)
    if not journal.entries:
        return _append(state, _next_entry(state, BEGUN, (), is_checkpoint=True))
    if not state.is_edited:
        return state
    edits = diff_boxes(_replayed(path, journal.entries), state.text)
    return _append(state, _next_entry(state, BY_HAND, edits, is_checkpoint=True))


def peek(path: Path) -> BoxState:
    """Return the state of a box without a lock and without writing.

    Raises
    ------
    InputError
        When the box can't be read or the journal is damaged.
    """
    moved = Path(f"{path}{OLD}")
    raw = read_bytes(moved if moved.exists() and not path.exists() else path, str(path))
    return BoxState(path, raw, BoxText.of(raw, str(path)), load_valid_journal(path))


def find_hand_edit(state: BoxState) -> tuple[ItemChange, ...] | None:
    """Return what was edited by hand since the last entry of the journal; None without an edit.

    Raises
    ------
    InputError
        When the journal does not add up.
    """
    if not state.is_edited:
        return None
    return diff_boxes(_replayed(state.path, state.entries), state.text)


def commit(
    state: BoxState,
    after: BoxText,
    what: str,
    changes: Sequence[ItemChange],
    *,
    note: str = "",
    undoes: int | None = None,
) -> BoxState:
    """Write a changed box in place of the present one, and its entry into the journal.

    Parameters
    ----------
    state : BoxState
        As `recover` returns it; the caller holds the lock.
    after : BoxText
        The box with the changes applied.
    what, note : str
        For the journal.
    changes : sequence of ItemChange
    undoes : int, optional
        The number of the entry that is taken back.

    Raises
    ------
    ConcurrentEditError
        When the file was saved by another program meanwhile; rolled back.
    OSError
        When something can't be written; rolled back.
    """
    path = state.path
    begun = replace(state, text=after)
    entry = _next_entry(begun, what, changes, note=note, undoes=undoes)
    if state.raw is not None and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    try:
        _write(Path(f"{path}{NEW}"), after.raw, like=path)
        mark = json.dumps({"number": entry.number}).encode()
        _write(Path(f"{path}{PENDING}"), mark, like=path)
        done = _append(begun, entry)
    except BaseException:
        discard_temporaries(path)
        raise
    try:
        is_done = replace_box(path, state.raw)
    except (ConcurrentEditError, OSError):
        # The box has not got its new text. Should the rollback fail too, the next recovery
        # finishes the commit.
        truncate(path, state.journal.length)
        discard_temporaries(path)
        raise
    if is_done:
        discard_temporaries(path)
    return replace(done, raw=after.raw)


def discard_temporaries(path: Path) -> None:
    """Delete the temporary files of a commit."""
    for end in (NEW, OLD, PENDING):
        if os.path.lexists(f"{path}{end}"):
            with contextlib.suppress(OSError):
                os.unlink(f"{path}{end}")


def _begin_box(path: Path, entries: Sequence[JournalEntry], may_begin: bool) -> BoxState:
    if entries:
        remedy = f"its journal is there: 'flykin check --box {path} --rebuild' makes it again"
        raise box_error(path, "the box is gone", remedy)
    if not may_begin:
        raise missing_box_error(path)
    return BoxState(path, None, BoxText(), Journal())


def _next_entry(
    state: BoxState,
    what: str,
    changes: Sequence[ItemChange],
    *,
    note: str = "",
    undoes: int | None = None,
    is_checkpoint: bool = False,
) -> JournalEntry:
    """Return the entry that leads to the text of a state."""
    before = len(state.entries)
    return JournalEntry(
        number=before + 1,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
        what=what,
        note=note,
        changes=tuple(changes),
        encoding=state.text.encoding,
        box=sha256_of(state.text.raw),
        undoes=undoes,
        text=state.text.text if is_checkpoint or before % CHECKPOINT == 0 else None,
    )


def _append(state: BoxState, entry: JournalEntry) -> BoxState:
    return replace(state, journal=append(state.path, entry, state.journal))


def _replayed(path: Path, entries: Sequence[JournalEntry]) -> BoxText:
    """Return the box of the last entry, or raise the error that the journal does not add up."""
    box = replay_last(entries)
    if box is None:
        remedy = f"run 'flykin check --box {path}': it tells what can be done"
        raise box_error(path, "its journal does not add up", remedy)
    return box


def _write(path: Path, content: bytes, like: Path) -> None:
    """Write a file to the disk, with the owner and the permissions of another."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666)
    try:
        write_and_sync(handle, content)
    finally:
        os.close(handle)
    copy_permissions(like, path)


def _finish_commit(path: Path, entries: Sequence[JournalEntry]) -> None:
    """Finish a commit whose entry the journal holds; roll back any other."""
    edit = None
    restore_moved(path)
    if entries and entries[-1].number == _pending_number(path):
        raw, last = _read_bytes(path), entries[-1]
        before = entries[-2].box if len(entries) > 1 else None
        if raw is None or sha256_of(raw) == before:
            # Neither replaced nor edited by hand since.
            _write(Path(f"{path}{NEW}"), _replayed(path, entries).raw, like=path)
            with contextlib.suppress(ConcurrentEditError):
                replace_box(path, raw)
        else:
            edit = _sort_replaced(path, before, last.box)
    discard_temporaries(path)
    if edit is not None:
        raise edit_kept_error(path, edit)


def _sort_replaced(path: Path, before: str | None, after: str) -> Path | None:
    """Name a replaced file the previous one; or keep it as an edit, and return where."""
    edit = None
    for replaced in (Path(f"{path}{NEW}"), Path(f"{path}{OLD}")):
        if replaced.exists():
            checksum = sha256_of(replaced.read_bytes())
            if checksum == before:
                os.replace(replaced, f"{path}{PREVIOUS}")
            elif checksum != after:
                edit = set_aside(replaced, path)
    return edit


def _keep_late_edit(path: Path, entries: Sequence[JournalEntry]) -> None:
    """Keep what was saved into the previous file after it had been replaced."""
    previous = Path(f"{path}{PREVIOUS}")
    is_ours = any(entry.what not in (BEGUN, BY_HAND) for entry in entries[1:])
    if is_ours and previous.is_file():
        checksum = sha256_of(previous.read_bytes())
        if all(checksum != entry.box for entry in reversed(entries)):
            raise edit_kept_error(path, set_aside(previous, path))


def _pending_number(path: Path) -> int:
    """Return the number of the entry of an interrupted commit; 0 where there is none."""
    try:
        return int(json.loads(Path(f"{path}{PENDING}").read_bytes())["number"])
    except (ValueError, KeyError, TypeError, OSError):
        return 0


def _read_bytes(path: Path) -> bytes | None:
    return read_bytes(path, str(path)) if path.exists() else None
