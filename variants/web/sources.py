"""The files the pages rest on: rules, regions, box and books, read once and again when changed."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import count
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Generic, TypeVar

from variants.geometry import Layout, load_layout
from variants.model import Box
from variants.reading import read_box
from variants.reading.words import Glossary, load_glossary
from variants.regions import LawOfTheLand, Place, load_law, read_places
from variants.rulebook import Rulebook, load_rulebook, own_rules_folder
from variants.web.books import BookReader, Books, FileStamp, file_stamp, key_of

if TYPE_CHECKING:
    from variants.views.sheet import StepsTable

Value = TypeVar("Value")


@dataclass(frozen=True)
class Trade:
    """The rules, and all that is read from the same folders.

    Attributes
    ----------
    rulebook : Rulebook
    folders : tuple of Path
        The user's own.
    places : mapping of key to Place
        The waters of the region files.
    serial : int
        Tells one reading of the files from the next.
    """

    rulebook: Rulebook
    folders: tuple[Path, ...]
    glossary: Glossary
    layout: Layout
    law: LawOfTheLand
    places: Mapping[str, Place]
    serial: int
    _joined: dict[str, Rulebook] = field(default_factory=dict)

    def rulebook_on(self, place: str) -> Rulebook:
        """Return the rulebook with the rules of a place; the trade's own for an empty key."""
        if not place:
            return self.rulebook
        if place not in self._joined:
            self._joined[place] = self.places[place].joined(self.rulebook)
        return self._joined[place]

    @cached_property
    def steps(self) -> StepsTable:
        """The steps at the vice, for sheets."""
        from variants.views.sheet import load_steps

        return load_steps(self.rulebook.trade, self.folders)


@dataclass(frozen=True, slots=True)
class BoxSnapshot:
    """A box as it was read, and what tells it from the same box changed.

    Attributes
    ----------
    box : Box
    version : str
        A digest of the file, the one by which its store knows it.
    """

    box: Box
    version: str


class _FileCache(Generic[Value]):
    """A value made of files, made again when one of them has changed."""

    def __init__(self, files: Callable[[], Iterable[Path]], make: Callable[[], Value]) -> None:
        self._files, self._make = files, make
        self._stamps: tuple[FileStamp, ...] | None = None
        self._value: Value
        self._lock = Lock()

    def value(self) -> Value:
        stamps = tuple(file_stamp(path) for path in self._files())
        with self._lock:
            if self._stamps != stamps:
                self._value = self._make()
                self._stamps = stamps
            return self._value


class Sources:
    """All that the pages work on.

    Parameters
    ----------
    box : Path or None
        The tyer's box; without one dressings are shown, and nothing is proposed.
    books : sequence of Path
    rules : sequence of Path
        Folders of the user's own rules.
    regions : sequence of Path
        Region files, and folders of them.
    """

    def __init__(
        self,
        box: Path | None,
        books: Sequence[Path] = (),
        rules: Sequence[Path] = (),
        regions: Sequence[Path] = (),
    ) -> None:
        self.box_path, self.rules, self.regions = box, tuple(rules), tuple(regions)
        self._book_reader = BookReader(books)
        self._serials = count(1)
        self._trade = _FileCache(self._trade_files, self._read_trade)
        self._box = _FileCache(self._box_files, self._read_box)
        self._books_lock = Lock()

    @property
    def book_paths(self) -> tuple[Path, ...]:
        """Folders and files that the books are read from."""
        return self._book_reader.paths

    @property
    def trade(self) -> Trade:
        """The rules; raises `InputError` when one of the user's own can't be read."""
        return self._trade.value()

    @property
    def box(self) -> BoxSnapshot | None:
        """The box as it is now; None where the page has none. Raises `InputError`."""
        return None if self.box_path is None else self._box.value()

    @property
    def books(self) -> Books:
        """The books as they are now."""
        trade = self.trade
        with self._books_lock:
            return self._book_reader.read(trade.rulebook.trade, trade.glossary)

    def _trade_files(self) -> list[Path]:
        own = [
            file
            for folder in self.rules
            for file in sorted(folder.rglob("*"))
            if file.suffix in (".toml", ".tsv")
        ]
        return [*own, *self._region_files()]

    def _box_files(self) -> list[Path]:
        return [*self._trade_files(), *([self.box_path] if self.box_path else [])]

    def _region_files(self) -> list[Path]:
        return [
            file
            for one in self.regions
            for file in (sorted(one.glob("*.toml")) if one.is_dir() else [one])
        ]

    def _read_trade(self) -> Trade:
        rulebook = load_rulebook(self.rules)
        glossary = load_glossary([own_rules_folder(), *self.rules], rulebook.trade)
        law = load_law(rulebook.trade, self.rules)
        places = {
            key_of(place.name): place
            for file in self._region_files()
            for place in read_places(file, rulebook, law)
        }
        layout = load_layout(self.rules)
        return Trade(rulebook, self.rules, glossary, layout, law, places, next(self._serials))

    def _read_box(self) -> BoxSnapshot:
        assert self.box_path is not None  # `box` asks only where there is one
        trade = self.trade.rulebook.trade
        while True:
            before = version_of(self.box_path)
            box = read_box(self.box_path, trade)
            if version_of(self.box_path) == before:
                return BoxSnapshot(box, before)


def version_of(path: Path) -> str:
    """Return a digest of a file; empty where there is none."""
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""
