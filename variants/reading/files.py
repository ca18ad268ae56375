"""Bytes to text: opening what the user named, and refusing plainly what is no text of ours."""

from __future__ import annotations

import sys
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Fault, InputError

_LARGEST_BYTES = 64 * 1024 * 1024
_LONGEST_LINE = 200_000
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def _refuse(name: str, problem: str, remedy: str, line: int = 0) -> InputError:
    return InputError([Fault(Origin(name, line), problem, remedy)])


def _bytes_of(path: Path, name: str) -> bytes:
    try:
        if path.is_file() and path.stat().st_size > _LARGEST_BYTES:
            raise _refuse(name, "is larger than 64 MB", "split it, or name another file")
        return path.read_bytes()
    except FileNotFoundError:
        near = _near_files(path)
        raise InputError(
            [Fault(Origin(name), "there is no such file", "check the name and the folder", near)]
        ) from None
    except IsADirectoryError:
        raise _refuse(name, "is a folder, not a file", "name one file in it") from None
    except PermissionError:
        raise _refuse(name, "may not be read", "check the file's permissions") from None
    except (OSError, ValueError) as problem:
        reason = getattr(problem, "strerror", None) or "the name holds what no file name can"
        raise _refuse(name, f"can't be read: {reason.lower()}", "check the file") from None


def _near_files(path: Path) -> tuple[str, ...]:
    from variants.reading.faults import nearest

    try:
        names = [entry.name for entry in path.parent.iterdir()]
    except OSError:
        return ()
    return nearest(path.name, names)


def read_text(path: str | Path) -> str:
    """Return the text of a file; ``-`` is standard input.

    Raises
    ------
    InputError
        When the file can't be opened, is no UTF-8, is larger than 64 MB, or holds a line of more
        than 200 000 characters.
    """
    name = "(standard input)" if str(path) == "-" else str(path)
    raw = sys.stdin.buffer.read() if str(path) == "-" else _bytes_of(Path(path), name)
    if raw.startswith(_UTF16_MARKS):
        raise _refuse(name, "is saved as UTF-16", "save it again as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = raw.count(b"\n", 0, problem.start) + 1
        raise _refuse(
            name, "holds bytes that are no UTF-8 (Latin-1, perhaps)", "save it again as UTF-8", line
        ) from None
    for number, line_text in enumerate(text.split("\n"), start=1):
        if len(line_text) > _LONGEST_LINE:
            raise _refuse(
                name, f"the line is {len(line_text)} characters long", "break it up", number
            )
        if "\0" in line_text:
            raise _refuse(name, "the line holds a zero byte", "save it again as plain text", number)
    return text
