"""Atomic compare-and-replace of a box file: what stood in its place is never lost.

Where the system can, the new and the present file exchange their names in one step; only then is
the replaced file compared with what was read. If they differ, someone has saved an edit meanwhile:
the exchange is reversed, and the command begins anew with the edit. Where the system can't, the
present file is moved away, compared, and the new one linked in its place.
"""

from __future__ import annotations

import errno
import os
from pathlib import Path

from variants.box.atomic_write import sync_folder
from variants.box.rename_exchange import exchange_names
from variants.model import Origin
from variants.reading import Fault, InputError

#: The ends of names: the new file, the replaced one, and one that is moved away.
NEW, PREVIOUS, OLD = ".new", ".previous", ".previous.new"
ASIDE = ".set-aside"
#: Not every file system has two names for one file.
_NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK)


class ConcurrentEditError(Exception):
    """The box was saved by another program while a command was at work on it; begin anew."""


def replace_box(path: Path, expected: bytes | None) -> bool:
    """Rename ``box.csv.new`` to the box, and what was there to ``box.csv.previous``.

    Parameters
    ----------
    path : Path
        Of the box; the new file stands beside it.
    expected : bytes or None
        The content of the file that is replaced; None where there is none.

    Returns
    -------
    bool
        Whether all of it is done; else the replaced file has not got its name yet.

    Raises
    ------
    ConcurrentEditError
        When the file is not as expected; it is left as it is.
    InputError
        When it was edited even while that was reversed, with the backup of the other version.
    OSError
        When the file can't be replaced; it is left as it is.
    """
    if expected is None:
        _link_new(path)
        return True
    new = Path(f"{path}{NEW}")
    if exchange_names(new, path):
        if not _holds(new, expected):
            _reverse_exchange(path)
            raise ConcurrentEditError
        replaced = new
    else:
        replaced = _replace_by_moving(path, expected)
    try:
        os.replace(replaced, f"{path}{PREVIOUS}")
    except OSError:
        return False
    sync_folder(path.parent)
    return True


def _link_new(path: Path) -> None:
    """Give the new file the name of the box, unless there is one by now."""
    new = f"{path}{NEW}"
    try:
        os.link(new, path)
    except FileExistsError:
        raise ConcurrentEditError from None
    except OSError as problem:
        if problem.errno not in _NO_LINKS:
            raise
        if os.path.lexists(path):
            raise ConcurrentEditError from None
        os.replace(new, path)
    sync_folder(path.parent)


def _holds(path: Path, content: bytes) -> bool:
    try:
        return path.read_bytes() == content
    except OSError:
        return False


def _reverse_exchange(path: Path) -> None:
    """Exchange the names again; should our file have been edited even then, back the edit up."""
    new = Path(f"{path}{NEW}")
    ours = path.read_bytes()
    if exchange_names(new, path) and _holds(new, ours):
        return
    try:
        backup = set_aside(new, path)
    except OSError:
        backup = new
    raise edit_kept_error(path, backup)


def _replace_by_moving(path: Path, expected: bytes) -> Path:
    """Replace a box where names can't be exchanged; return where the replaced file is.

    It is moved away first: for a moment there is no box.
    """
    old = Path(f"{path}{OLD}")
    os.replace(path, old)
    if not _holds(old, expected):
        restore_moved(path)
        raise ConcurrentEditError
    try:
        _link_new(path)
    except OSError:
        restore_moved(path)
        raise
    return old


def restore_moved(path: Path) -> None:
    """Rename a box that was moved away back, where there is none; else back it up.

    Raises
    ------
    InputError
        When there is another box by now, with the backup.
    OSError
        When it can't be renamed.
    """
    old = Path(f"{path}{OLD}")
    if not old.exists() or path.exists():
        return
    try:
        os.link(old, path)
    except FileExistsError:
        raise edit_kept_error(path, set_aside(old, path)) from None
    except OSError as problem:
        if problem.errno not in _NO_LINKS:
            raise
        os.replace(old, path)


def set_aside(found: Path, box: Path) -> Path:
    """Rename a file to a backup name beside the box that nothing overwrites; return that.

    Raises
    ------
    OSError
        When it can't be renamed.
    """
    number = 1
    while os.path.lexists(backup := Path(f"{box}{ASIDE}-{number}")):
        number += 1
    os.replace(found, backup)
    sync_folder(box.parent)
    return backup


def edit_kept_error(path: Path, backup: Path) -> InputError:
    """Return the error that names the backup of an edit that came while a command wrote."""
    problem = f"was edited while a command wrote it: that version is kept as {backup.name}"
    remedy = "bring over what you want of it, then give the command again"
    return InputError([Fault(Origin(str(path)), problem, remedy)])
