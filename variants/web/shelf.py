"""The books on the shelf: every dressing the page can open, under a key that is safe in a link.

Files are read again when they change. A file that can't be read stands on the shelf with its faults
and takes nothing else down. Keys are made of file names; a key is looked up, never opened.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

from variants.model import Dressing, Trade
from variants.reading import InputError, read_dressing, read_words
from variants.reading.plain import Glossary, read_plain

#: What of a file shows that it was changed: time of change in nanoseconds, size, number on disk.
Stamp = tuple[int, int, int]
_MISSING: Stamp = (0, 0, 0)


def stamp_of(path: Path) -> Stamp:
    """Return what changes when a file does; zeros where there is none."""
    try:
        told = path.stat()
    except OSError:
        return _MISSING
    return told.st_mtime_ns, told.st_size, told.st_ino


@dataclass(frozen=True, slots=True)
class Volume:
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
class Shelf:
    """All volumes together.

    Attributes
    ----------
    dressings : mapping of key to Dressing
        In the order of the files.
    volumes : tuple of Volume
    serial : int
        Tells it from the shelf before a file was changed.
    """

    dressings: dict[str, Dressing]
    volumes: tuple[Volume, ...]
    serial: int

    @property
    def spoilt(self) -> tuple[Volume, ...]:
        """Files that can't be read."""
        return tuple(one for one in self.volumes if one.problem is not None)


class Shelving:
    """Reads books, and again what has changed of them.

    Parameters
    ----------
    books : sequence of Path
        Folders of dressing files, dressing files, and files of plain words.
    """

    def __init__(self, books: Sequence[Path]) -> None:
        self.books = tuple(books)
        self._volumes: dict[Path, tuple[object, Volume]] = {}
        self._serials = count(1)
        self._shelf: tuple[tuple[object, ...], Shelf] | None = None

    def shelf(self, trade: Trade, glossary: Glossary) -> Shelf:
        """Return the shelf as the files are now."""
        files = list(self._files())
        stamps = [(path, stamp_of(path), id(trade)) for path in files]
        if self._shelf is None or self._shelf[0] != tuple(stamps):
            volumes = [self._volume(path, stamp, trade, glossary) for path, *stamp in stamps]
            self._shelf = tuple(stamps), _shelved(volumes, next(self._serials))
        return self._shelf[1]

    def _files(self) -> Iterator[Path]:
        for book in self.books:
            if book.is_dir():
                yield from sorted(book.glob("*.toml"))
            else:
                yield book

    def _volume(self, path: Path, stamp: object, trade: Trade, glossary: Glossary) -> Volume:
        known = self._volumes.get(path)
        if known is None or known[0] != stamp:
            known = self._volumes[path] = stamp, _read(path, trade, glossary)
        return known[1]


def _read(path: Path, trade: Trade, glossary: Glossary) -> Volume:
    try:
        if path.suffix == ".toml":
            return Volume(path, {key_of(path.stem): read_dressing(path, trade)})
        readings = read_plain(read_words(path), glossary, file=str(path))
    except InputError as problem:
        return Volume(path, problem=problem)
    found = {
        key_of(f"{path.stem} {one.name}"): one.dressing
        for one in readings
        if one.dressing is not None
    }
    return Volume(path, found, left_out=sum(one.dressing is None for one in readings))


def _shelved(volumes: Sequence[Volume], serial: int) -> Shelf:
    dressings: dict[str, Dressing] = {}
    for volume in volumes:
        for key, dressing in volume.dressings.items():
            free, number = key, 1
            while free in dressings:
                number += 1
                free = f"{key}-{number}"
            dressings[free] = dressing
    return Shelf(dressings, tuple(volumes), serial)


def key_of(name: str) -> str:
    """Return a name as it stands in a link.

    >>> key_of("Ferryman's Dun")
    'ferryman-s-dun'
    """
    return "-".join(re.findall(r"\w+", name.lower()))[:80] or "dressing"
