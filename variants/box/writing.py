"""Files written whole or not at all: a temporary one beside the target, synced, then renamed."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from variants.model import Origin
from variants.reading import Fault, InputError


def write_whole(path: Path, text: str) -> None:
    """Write a text file so that a reader sees the old one or the new one, never half of it.

    Raises
    ------
    InputError
        When the folder can't be written to; nothing is left behind then.
    """
    write_whole_bytes(path, text.encode("utf-8"))


def write_whole_bytes(path: Path, content: bytes) -> None:
    """Write a file so that a reader sees the old one or the new one, never half of it.

    Raises
    ------
    InputError
        When the folder can't be written to; nothing is left behind then.
    """
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    except OSError as problem:
        raise _refused(path, problem) from None
    try:
        try:
            write_down(handle, content)
        finally:
            os.close(handle)
        os.chmod(temporary, _mode(path))
        make_like(Path(temporary), path)
        os.replace(temporary, path)
        settle_folder(path.parent)
    except OSError as problem:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise _refused(path, problem) from None


def write_down(handle: int, content: bytes) -> None:
    """Write all of a content to an open file, down to the disk, past every buffer."""
    left = memoryview(content)
    while left:
        left = left[os.write(handle, left) :]
    os.fsync(handle)


def make_like(path: Path, like: Path) -> None:
    """Let a file be read and written by whom another one may be; where the system lets us."""
    try:
        wanted, found = like.stat(), path.stat()
    except OSError:
        return
    if (found.st_uid, found.st_gid) != (wanted.st_uid, wanted.st_gid):
        with contextlib.suppress(OSError, AttributeError):
            os.chown(path, wanted.st_uid, wanted.st_gid)
    if (found.st_mode ^ wanted.st_mode) & 0o777:
        with contextlib.suppress(OSError):
            os.chmod(path, wanted.st_mode & 0o777)


def settle_folder(folder: Path) -> None:
    """Bring a folder's names to the disk, where the system can; a rename may be lost otherwise."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _mode(path: Path) -> int:
    """Return who may read and write a file: as before, or as the system has it for a new one."""
    try:
        return path.stat().st_mode & 0o777
    except OSError:
        return 0o666 & ~_umask()


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _refused(path: Path, problem: OSError) -> InputError:
    reason = (problem.strerror or "unknown reason").lower()
    return InputError([Fault(Origin(str(path)), f"can't be written: {reason}", "check the folder")])
