"""The books: every dressing the page can open, under a key that is safe in a link.

Files are read again when they change. A file that can't be read is listed with its faults and
takes nothing else down. Keys are made of file names; a key is looked up, never opened.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

from variants.model import Dressing, Trade
from variants.reading import InputError, read_dressing, read_words
from variants.reading.words import Glossary, read_plain

#: What of a file shows that it was changed: time of change in nanoseconds, size, number on disk.
FileStamp = tuple[int, int, int]
_MISSING: FileStamp = (0, 0, 0)


def file_stamp(path: Path) -> FileStamp:
    """Return what changes when a file does; zeros where there is none."""
    try:
        status = path.stat()
    except OSError:
        return _MISSING
    return status.st_mtime_ns, status.st_size, status.st_ino


@dataclass(frozen=True, slots=True)
class BookFile:
    """A file of the book: its dressings by key, or why it can't be read.

    Attributes
    ----------
    path : Path
    dressings : mapping of key to Dressing
    problem : InputError or None
    left_out : int
        Dressings in plain words that were not understood.
    """

    path: Path
    dressings: dict[str, Dressing] = field(default_factory=dict)
    problem: InputError | None = None
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class Books:
    """All files together.

    Attributes
    ----------
    dressings : mapping of key to Dressing
        In the order of the files.
    files : tuple of BookFile
    serial : int
        Tells it from the books before a file was changed.
    """

    dressings: dict[str, Dressing]
    files: tuple[BookFile, ...]
    serial: int

    @property
    def unreadable(self) -> tuple[BookFile, ...]:
        """Files that can't be read."""
        return tuple(one for one in self.files if one.problem is not None)


class BookReader:
    """Reads books, and again what has changed of them.

    Parameters
    ----------
    paths : sequence of Path
        Folders of dressing files, dressing files, and files of plain words.
    """

    def __init__(self, paths: Sequence[Path]) -> None:
        self.paths = tuple(paths)
        self._known: dict[Path, tuple[object, BookFile]] = {}
        self._serials = count(1)
        self._books: tuple[tuple[object, ...], Books] | None = None

    def read(self, trade: Trade, glossary: Glossary) -> Books:
        """Return the books as the files are now."""
        files = list(self._files())
        stamps = [(path, file_stamp(path), id(trade)) for path in files]
        if self._books is None or self._books[0] != tuple(stamps):
            book_files = [self._read_file(path, stamp, trade, glossary) for path, *stamp in stamps]
            self._books = tuple(stamps), _collect(book_files, next(self._serials))
        return self._books[1]

    def _files(self) -> Iterator[Path]:
        for path in self.paths:
            if path.is_dir():
                yield from sorted(path.glob("*.toml"))
            else:
                yield path

    def _read_file(self, path: Path, stamp: object, trade: Trade, glossary: Glossary) -> BookFile:
        known = self._known.get(path)
        if known is None or known[0] != stamp:
            known = self._known[path] = stamp, _read(path, trade, glossary)
        return known[1]


def _read(path: Path, trade: Trade, glossary: Glossary) -> BookFile:
    try:
        if path.suffix == ".toml":
            return BookFile(path, {key_of(path.stem): read_dressing(path, trade)})
        readings = read_plain(read_words(path), glossary, file=str(path))
    except InputError as problem:
        return BookFile(path, problem=problem)
    found = {
        key_of(f"{path.stem} {one.name}"): one.dressing
        for one in readings
        if one.dressing is not None
    }
    return BookFile(path, found, left_out=sum(one.dressing is None for one in readings))


def _collect(files: Sequence[BookFile], serial: int) -> Books:
    dressings: dict[str, Dressing] = {}
    for file in files:
        for key, dressing in file.dressings.items():
            free, number = key, 1
            while free in dressings:
                number += 1
                free = f"{key}-{number}"
            dressings[free] = dressing
    return Books(dressings, tuple(files), serial)


def key_of(name: str) -> str:
    """Return a name as it stands in a link.

    >>> key_of("Ferryman's Dun")
    'ferryman-s-dun'
    """
    return "-".join(re.findall(r"\w+", name.lower()))[:80] or "dressing"
