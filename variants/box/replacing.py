"""A new text put in a box's place so that whatever stood there stays, an edit of that moment too.

The two files are given each other's names in one step, where the system can: what the box really
was at that moment is then looked at. If it is not what the change was made from, someone has saved
an edit: the step is taken back, and the command begins anew with the edit.
"""

from __future__ import annotations

import errno
import os
from pathlib import Path

from variants.box.swapping import swap_names
from variants.box.writing import settle_folder
from variants.model import Origin
from variants.reading import Fault, InputError

#: The new text before it has its name; what was read until it is the previous one.
NEW, PREVIOUS, OLD = ".new", ".previous", ".previous.new"
ASIDE = ".set-aside"
#: Not every file system has two names for one file.
_NO_LINKS = (errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK)


class EditedError(Exception):
    """The box was saved by another program while a command was at work on it; begin anew."""


def put_in_place(path: Path, was: bytes | None) -> bool:
    """Give ``box.csv.new`` the name of the box, and what was there the name ``box.csv.previous``.

    Parameters
    ----------
    path : Path
        Of the box; the new text stands beside it.
    was : bytes or None
        What the new text was made from; None where there was no box.

    Returns
    -------
    bool
        Whether all of it is done; else the previous text has not got its name yet.

    Raises
    ------
    EditedError
        When the box is another one; it is as it was then.
    InputError
        When it was edited even while that was put right, with where the other version is.
    OSError
        When the box can't be replaced; it is as it was then.
    """
    if was is None:
        _put_first(path)
        return True
    new = Path(f"{path}{NEW}")
    if swap_names(new, path):
        if not _holds(new, was):
            _swap_back(path)
            raise EditedError
        left = new
    else:
        left = _put_by_moving(path, was)
    try:
        os.replace(left, f"{path}{PREVIOUS}")
    except OSError:
        return False
    settle_folder(path.parent)
    return True


def _put_first(path: Path) -> None:
    """Begin a box, unless there is one by now."""
    new = f"{path}{NEW}"
    try:
        os.link(new, path)
    except FileExistsError:
        raise EditedError from None
    except OSError as problem:
        if problem.errno not in _NO_LINKS:
            raise
        if os.path.lexists(path):
            raise EditedError from None
        os.replace(new, path)
    settle_folder(path.parent)


def _holds(path: Path, content: bytes) -> bool:
    try:
        return path.read_bytes() == content
    except OSError:
        return False


def _swap_back(path: Path) -> None:
    """Give the box back what was in its place; what is then no text of ours is set aside."""
    new = Path(f"{path}{NEW}")
    ours = path.read_bytes()
    if swap_names(new, path) and _holds(new, ours):
        return
    try:
        aside = set_aside(new, path)
    except OSError:
        aside = new
    raise edit_kept(path, aside)


def _put_by_moving(path: Path, was: bytes) -> Path:
    """Replace a box where names can't be swapped; return where what was there is.

    It is moved away before anything is put there: for a moment there is no box.
    """
    old = Path(f"{path}{OLD}")
    os.replace(path, old)
    if not _holds(old, was):
        give_back(path)
        raise EditedError
    try:
        _put_first(path)
    except OSError:
        give_back(path)
        raise
    return old


def give_back(path: Path) -> None:
    """Bring back a box that was moved away, where there is none."""
    old = Path(f"{path}{OLD}")
    if not old.exists() or path.exists():
        return
    try:
        os.link(old, path)
    except FileExistsError:
        raise edit_kept(path, set_aside(old, path)) from None
    except OSError as problem:
        if problem.errno not in _NO_LINKS:
            raise
        os.replace(old, path)


def set_aside(found: Path, box: Path) -> Path:
    """Give a file a name beside the box under which nothing overwrites it; return that."""
    number = 1
    while os.path.lexists(aside := Path(f"{box}{ASIDE}-{number}")):
        number += 1
    os.replace(found, aside)
    settle_folder(box.parent)
    return aside


def edit_kept(path: Path, aside: Path) -> InputError:
    """Return the error that names where an edit is that came while a command wrote."""
    problem = f"was edited while a command wrote it: that version is kept as {aside.name}"
    remedy = "bring over what you want of it, then give the command again"
    return InputError([Fault(Origin(str(path)), problem, remedy)])
