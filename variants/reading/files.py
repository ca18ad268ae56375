"""Files to text: opened, limited in size, decoded; what is no text is refused."""

from __future__ import annotations

import sys
from pathlib import Path

from variants.model import Origin
from variants.reading.faults import Fault, InputError
from variants.reading.limits import (
    LONGEST_LINE,
    MOST_BYTES,
    MOST_LETTERS,
    REMEDY,
    find_excess,
)

#: UTF-32 stands first: its marks begin with those of UTF-16.
_MARKS = (
    (b"\xff\xfe\0\0", "UTF-32"),
    (b"\0\0\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
STANDARD_INPUT = "(standard input)"
_NAMELESS = "(no name)"
#: What a workbook begins with.
PACKED = b"PK\x03\x04"


def shown_name(path: str | Path) -> str:
    """Return the name of a file for messages; ``-`` is standard input."""
    return STANDARD_INPUT if str(path) == "-" else str(path) or _NAMELESS


def _error(name: str, problem: str, remedy: str, line: int = 0) -> InputError:
    return InputError([Fault(Origin(name, line), problem, remedy)])


def read_bytes(path: str | Path, name: str) -> bytes:
    """Read the bytes of a file; of an endless pipe or device no more than 16 MB.

    Raises
    ------
    InputError
        When it can't be read, or holds more than `limits` allows.
    """
    if name == _NAMELESS:
        raise _error(name, "the file's name is empty", "name a file")
    try:
        if name == STANDARD_INPUT:
            raw = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with Path(path).open("rb") as stream:
                raw = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        near = _near_files(Path(path))
        raise InputError(
            [Fault(Origin(name), "there is no such file", "check the name and the folder", near)]
        ) from None
    except IsADirectoryError:
        raise _error(name, "is a folder, not a file", "name one file in it") from None
    except PermissionError:
        raise _error(name, "may not be read", "check the file's permissions") from None
    except (OSError, ValueError, AttributeError) as problem:
        reason = getattr(problem, "strerror", None) or _explain_os_error(name)
        raise _error(name, f"can't be read: {reason.lower()}", "name another file") from None
    is_packed = raw.startswith(PACKED) and len(raw) <= MOST_BYTES
    excess = "" if is_packed else find_excess(raw)
    if excess:
        raise _error(name, excess, REMEDY)
    return raw


def _explain_os_error(name: str) -> str:
    return "it is closed" if name == STANDARD_INPUT else "the name holds what no file name can"


def _near_files(path: Path) -> tuple[str, ...]:
    from variants.text import nearest

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
        When the file can't be opened, is no UTF-8, is larger than files may be (`limits`), holds a
        zero byte, or ends its lines as no system of today does.
    """
    name = shown_name(path)
    raw = read_bytes(path, name)
    return check_text(_decode(raw, name), name)


def read_words(path: str | Path) -> str:
    """Return the text of a file of words, each of which is thought about.

    Raises
    ------
    InputError
        As from `read_text`, and when it is longer than 400 000 letters.
    """
    text = read_text(path)
    check_letters(text, shown_name(path))
    return text


def check_letters(text: str, name: str) -> None:
    """Refuse a text that is longer than any that is read letter for letter.

    Raises
    ------
    InputError
        When it is.
    """
    if len(text) > MOST_LETTERS:
        problem = f"is {len(text)} letters long, as no file of this kind is"
        raise _error(name, problem, REMEDY)


def check_text(text: str, name: str) -> str:
    """Return a text whose lines are such as a person would write; refuse another.

    Raises
    ------
    InputError
        When a line is longer than 200 000 characters, or lines end as no system of today ends them.
    """
    if "\r" in text and "\n" not in text:
        raise _error(
            name, "ends its lines with carriage returns alone", "save it again as plain text"
        )
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            raise _error(name, f"the line is {len(line)} characters long", "break it up", number)
    return text


def _decode(raw: bytes, name: str) -> str:
    for mark, encoding in _MARKS:
        if raw.startswith(mark):
            raise _error(name, f"is saved as {encoding}", "save it again as UTF-8")
    zero = raw.find(b"\0")
    if zero >= 0:
        # UTF-16 without its mark looks like this, and so does whatever is no text at all.
        remedy = "save it again as plain text in UTF-8"
        raise _error(name, "the line holds a zero byte", remedy, raw.count(b"\n", 0, zero) + 1)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = raw.count(b"\n", 0, problem.start) + 1
        raise _error(
            name, "holds bytes that are no UTF-8 (Latin-1, perhaps)", "save it again as UTF-8", line
        ) from None
