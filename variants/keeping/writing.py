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
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, path)
    except OSError as problem:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise _refused(path, problem) from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _refused(path: Path, problem: OSError) -> InputError:
    reason = (problem.strerror or "unknown reason").lower()
    return InputError([Fault(Origin(str(path)), f"can't be written: {reason}", "check the folder")])
