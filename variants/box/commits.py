"""A change to a box, done whole or not at all, under a lock, whatever befalls the machine.

Everything that takes room is written first: the new box, beside the present one. A small file
``box.csv.pending`` says that a change is under way. Then the entry goes into the journal, down to
the disk: from here on the change counts. Then the new box takes the name of the present one, which
becomes ``box.csv.previous`` (`replacing`), and the pending file goes. If the present one proves to
be another than was read, the entry goes again, and the command begins anew.

A command that finds a pending file ends the change where the journal holds its entry and forgets
it where not. One that finds the box another than the journal's last entry says takes the edit up:
it is written into the journal as made by hand. What was saved at the last moment, into the file
that was just replaced, is found in ``box.csv.previous``, and set aside under a name of its own.
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

from variants.box.changes import Change, changes_between
from variants.box.entries import Entry
from variants.box.journal import (
    BEGUN,
    BY_HAND,
    Journal,
    append,
    cut_back,
    exact_amounts,
    journal_path,
    rebuilt,
    sound_journal,
)
from variants.box.pieces import pieces_between, with_pieces
from variants.box.replacing import (
    NEW,
    OLD,
    PREVIOUS,
    EditedError,
    edit_kept,
    give_back,
    put_in_place,
    set_aside,
)
from variants.box.texts import BoxText, sum_of
from variants.box.writing import make_like, write_down
from variants.model import Origin
from variants.reading import Fault, InputError

LOCK, PENDING = ".lock", ".pending"
#: So long a command waits for another one to let go of the box.
PATIENCE_S = 10.0


@dataclass(frozen=True)
class Kept:
    """A box as it stands, with its journal; `raw` is None where there is no box yet."""

    path: Path
    raw: bytes | None
    text: BoxText
    journal: Journal

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries of its journal."""
        return self.journal.entries

    @cached_property
    def exact(self) -> dict[str, Decimal]:
        """The exact amounts of items, by plain name, where the box tells rounded ones."""
        return exact_amounts(self.entries)

    @property
    def version(self) -> str:
        """What a box is known by; another box, another version."""
        return sum_of(self.raw or b"")


@contextmanager
def locked(path: Path, patience_s: float | None = None) -> Iterator[None]:
    """Hold a box against every other command; trouble with files becomes one clear error.

    Raises
    ------
    InputError
        When another command holds it for longer than one waits, or a file can't be written.
    """
    from filelock import FileLock, Timeout

    wait = PATIENCE_S if patience_s is None else patience_s
    if not path.parent.is_dir():
        # The lock would make the folder.
        raise refused(path, "there is no such folder", "check the name, or make the folder first")
    try:
        with FileLock(f"{path}{LOCK}", timeout=wait):
            yield
    except Timeout:
        raise refused(path, "another command is at work on the box", "try again") from None
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        remedy = "check the folder and the room on the disk; the box is as it was"
        raise refused(path, f"can't be written: {reason}", remedy) from None


def no_such_file(path: Path) -> InputError:
    """Return the error that says that there is no box of that name."""
    return refused(path, "there is no such file", "check the name and the folder")


def refused(path: Path, problem: str, remedy: str) -> InputError:
    """Return the error that says what is wrong with a box as a file."""
    return InputError([Fault(Origin(str(path)), problem, remedy)])


def is_there(path: Path) -> bool:
    """Tell whether there is a box, or at least a journal that tells of one."""
    return path.exists() or journal_path(path).exists()


def settled(path: Path, *, may_begin: bool = False) -> Kept:
    """Return a box with nothing under way and its journal true to it; the lock has to be held.

    Parameters
    ----------
    path : Path
    may_begin : bool
        Whether a box that is not there is begun as an empty one.

    Raises
    ------
    InputError
        When the box can't be read, is gone while its journal is there, or the journal is damaged.
    """
    journal = sound_journal(path)
    _end_what_was_begun(path, journal.entries)
    _keep_late_edit(path, journal.entries)
    raw = _bytes(path)
    if raw is None:
        return _without_box(path, journal.entries, may_begin)
    text = BoxText.of(raw, str(path))
    kept = Kept(path, raw, text, journal)
    if not journal.entries:
        return _noted(kept, _entry(kept, BEGUN, text=text.text))
    return kept if journal.entries[-1].box == sum_of(raw) else taken_up(kept)


def _without_box(path: Path, entries: Sequence[Entry], may_begin: bool) -> Kept:
    if entries:
        remedy = f"its journal is there: 'flykin check --box {path} --rebuild' makes it again"
        raise refused(path, "the box is gone", remedy)
    if not may_begin:
        raise no_such_file(path)
    return Kept(path, None, BoxText(), Journal())


def taken_up(kept: Kept) -> Kept:
    """Write into the journal what was done to a box by hand since its last entry."""
    before = _as_told(kept)
    entry = _entry(
        kept,
        BY_HAND,
        changes=changes_between(before, kept.text),
        pieces=pieces_between(before, kept.text),
    )
    return _noted(kept, entry)


def by_hand(kept: Kept) -> tuple[Change, ...] | None:
    """Return what was done to a box by hand since its last entry; None when nothing was."""
    if not kept.entries or kept.entries[-1].box == sum_of(kept.raw or b""):
        return None
    return changes_between(_as_told(kept), kept.text)


def _as_told(kept: Kept) -> BoxText:
    try:
        told = rebuilt(kept.entries)
    except ValueError:
        told = None
    if told is None:
        remedy = f"run 'flykin check --box {kept.path}': it tells what can be done"
        raise refused(kept.path, "its journal does not add up", remedy)
    return told


def _noted(kept: Kept, entry: Entry) -> Kept:
    """Add an entry about a box that stays as it is."""
    return replace(kept, journal=append(kept.path, entry, kept.journal))


def _entry(
    kept: Kept,
    what: str,
    *,
    note: str = "",
    changes: Sequence[Change] = (),
    pieces: Sequence[tuple[int, tuple[str, ...], tuple[str, ...]]] = (),
    undoes: int | None = None,
    text: str | None = None,
    after: BoxText | None = None,
) -> Entry:
    box = after or kept.text
    return Entry(
        number=len(kept.entries) + 1,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
        what=what,
        note=note,
        changes=tuple(changes),
        pieces=tuple(pieces),
        encoding=box.encoding,
        box=sum_of(box.raw),
        undoes=undoes,
        text=text,
    )


def committed(
    kept: Kept,
    after: BoxText,
    what: str,
    changes: Sequence[Change],
    *,
    note: str = "",
    undoes: int | None = None,
) -> Kept:
    """Put a changed box in the place of the present one, and say so in the journal.

    Parameters
    ----------
    kept : Kept
        As `settled` gives it; the lock has to be held.
    after : BoxText
    what, note : str
        For the journal.
    changes : sequence of Change
    undoes : int, optional
        The number of the entry that is taken back.

    Raises
    ------
    EditedError
        When the box is another one by now; box and journal are then as before.
    OSError
        When something can't be written; box and journal are then as before.
    """
    is_first = kept.raw is None
    entry = _entry(
        kept,
        what,
        note=note,
        changes=changes,
        pieces=() if is_first else pieces_between(kept.text, after),
        undoes=undoes,
        text=after.text if is_first else None,
        after=after,
    )
    path = kept.path
    if kept.raw is not None and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
    try:
        _write(Path(f"{path}{NEW}"), after.raw, like=path)
        told = json.dumps({"number": entry.number}).encode()
        _write(Path(f"{path}{PENDING}"), told, like=path)
        journal = append(path, entry, kept.journal)
    except BaseException:
        clear(path)
        raise
    try:
        is_done = put_in_place(path, kept.raw)
    except (EditedError, OSError):
        # The box has not got its new text: the entry goes again, or the next command ends it.
        cut_back(path, kept.journal.length)
        clear(path)
        raise
    if is_done:
        clear(path)
    return Kept(path, after.raw, after, journal)


def _write(path: Path, content: bytes, like: Path) -> None:
    """Write a file down to the disk, to be read by whom the box may be read by."""
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)
    handle = os.open(path, flags, 0o666)
    try:
        write_down(handle, content)
    finally:
        os.close(handle)
    make_like(path, like)


def clear(path: Path) -> None:
    """Forget a change that was under way."""
    for end in (NEW, OLD, PENDING):
        if os.path.lexists(f"{path}{end}"):
            with contextlib.suppress(OSError):
                os.unlink(f"{path}{end}")


def _end_what_was_begun(path: Path, entries: Sequence[Entry]) -> None:
    """End a change that the journal holds, where a machine stopped before the box had it."""
    number = _pending_number(Path(f"{path}{PENDING}"))
    edit = None
    give_back(path)
    if entries and entries[-1].number == number:
        raw, last = _bytes(path), entries[-1]
        was = entries[-2].box if len(entries) > 1 else None
        if raw is None or sum_of(raw) == was:
            # Neither done nor edited by hand since.
            _write(Path(f"{path}{NEW}"), _after(path, raw, last).raw, like=path)
            with contextlib.suppress(EditedError):
                put_in_place(path, raw)
        else:
            edit = _end_after_swap(path, (was, last.box))
    clear(path)
    if edit is not None:
        raise edit_kept(path, edit)


def _end_after_swap(path: Path, known: tuple[str | None, str]) -> Path | None:
    """Name what was swapped out of the box's place the previous one, or set it aside as an edit."""
    edit = None
    for found in (Path(f"{path}{NEW}"), Path(f"{path}{OLD}")):
        if found.exists():
            told = sum_of(found.read_bytes())
            if told == known[0]:
                os.replace(found, f"{path}{PREVIOUS}")
            elif told != known[1]:
                edit = set_aside(found, path)
    return edit


def _keep_late_edit(path: Path, entries: Sequence[Entry]) -> None:
    """Set aside what was saved into the previous box after it had been replaced."""
    previous = Path(f"{path}{PREVIOUS}")
    is_ours = any(entry.what not in (BEGUN, BY_HAND) for entry in entries[1:])
    if is_ours and previous.is_file():
        told = sum_of(previous.read_bytes())
        if all(told != entry.box for entry in reversed(entries)):
            raise edit_kept(path, set_aside(previous, path))


def _after(path: Path, raw: bytes | None, entry: Entry) -> BoxText:
    if entry.text is not None or raw is None:
        return BoxText(entry.text or "", entry.encoding)
    lines = with_pieces(BoxText.of(raw, str(path)).lines, entry.pieces)
    return BoxText("".join(lines), entry.encoding)


def _pending_number(pending: Path) -> int:
    try:
        return int(json.loads(pending.read_bytes())["number"])
    except (ValueError, KeyError, TypeError, OSError):
        return 0


def _bytes(path: Path) -> bytes | None:
    from variants.reading import bytes_of

    return bytes_of(path, str(path)) if path.exists() else None


def peek(path: Path) -> Kept:
    """Return a box and its journal as they stand, without a lock and without writing.

    Raises
    ------
    InputError
        When the box can't be read or the journal is damaged.
    """
    from variants.reading import bytes_of

    moved = Path(f"{path}{OLD}")
    raw = bytes_of(moved if moved.exists() and not path.exists() else path, str(path))
    return Kept(path, raw, BoxText.of(raw, str(path)), sound_journal(path))
