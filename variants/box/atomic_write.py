"""Files written atomically: a temporary file beside the target, synced, then renamed over it."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from variants.model import Origin
from variants.reading import Fault, InputError


def write_atomically(path: Path, text: str) -> None:
    """Write a text file in UTF-8, so that a reader sees the old one or the new one.

    Raises
    ------
    InputError
        When the folder can't be written to; the old file is as it was.
    """
    write_bytes_atomically(path, text.encode("utf-8"))


def write_bytes_atomically(path: Path, content: bytes) -> None:
    """Write a file, so that a reader sees the old one or the new one, never half of it.

    Raises
    ------
    InputError
        When the folder can't be written to; the old file is as it was.
    """
    temporary = ""
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            write_and_sync(handle, content)
        finally:
            os.close(handle)
        if path.exists():
            copy_permissions(path, Path(temporary))
        else:
            os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, path)
        sync_folder(path.parent)
    except OSError as problem:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        reason = (problem.strerror or "unknown reason").lower()
        fault = Fault(Origin(str(path)), f"can't be written: {reason}", "check the folder")
        raise InputError([fault]) from None


def write_and_sync(handle: int, content: bytes) -> None:
    """Write all of a content to an open file descriptor, and sync it to the disk.

    Raises
    ------
    OSError
        When it can't be written.
    """
    left = memoryview(content)
    while left:
        left = left[os.write(handle, left) :]
    os.fsync(handle)


def copy_permissions(source: Path, target: Path) -> None:
    """Give a file the owner and the permissions of another, as far as the system lets us."""
    try:
        wanted, found = source.stat(), target.stat()
    except OSError:
        return
    if (found.st_uid, found.st_gid) != (wanted.st_uid, wanted.st_gid):
        with contextlib.suppress(OSError, AttributeError):
            os.chown(target, wanted.st_uid, wanted.st_gid)
    if (found.st_mode ^ wanted.st_mode) & 0o777:
        with contextlib.suppress(OSError):
            os.chmod(target, wanted.st_mode & 0o777)


def sync_folder(folder: Path) -> None:
    """Sync a folder's names to the disk, where the system can; a rename may be lost otherwise."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
