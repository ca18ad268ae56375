"""What lies on the bench: the rulebook, the box and the books, read once and again when changed."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from threading import Lock
from typing import Generic, TypeVar

from variants.geometry import Layout, load_layout
from variants.model import Box
from variants.reading import read_box
from variants.reading.plain import Glossary, load_glossary
from variants.rulebook import Rulebook, load_rulebook, own_rules_folder
from variants.web.shelf import Shelf, Shelving, Stamp, stamp_of

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Trade:
    """The rules, and what is read from the same folders; the serial tells one reading of them
    from the next.
    """

    rulebook: Rulebook
    glossary: Glossary
    layout: Layout
    serial: int


@dataclass(frozen=True, slots=True)
class HeldBox:
    """A box as it was read, and what tells it from the same box changed.

    Attributes
    ----------
    box : Box
    version : str
        A digest of the file: a form that was made from another one is out of date.
    """

    box: Box
    version: str


class _Kept(Generic[Value]):
    """A value made of files, made again when one of them has changed."""

    def __init__(self, files: Callable[[], Iterable[Path]], make: Callable[[], Value]) -> None:
        self._files, self._make = files, make
        self._stamps: tuple[Stamp, ...] | None = None
        self._value: Value
        self._lock = Lock()

    def value(self) -> Value:
        stamps = tuple(stamp_of(path) for path in self._files())
        with self._lock:
            if self._stamps != stamps:
                self._value = self._make()
                self._stamps = stamps
            return self._value


class Bench:
    """All that the pages work on.

    Parameters
    ----------
    box : Path or None
        The tyer's box; without one dressings are shown, and nothing is proposed.
    books : sequence of Path
    rules : sequence of Path
        Folders of the user's own rules.
    """

    def __init__(
        self, box: Path | None, books: Sequence[Path] = (), rules: Sequence[Path] = ()
    ) -> None:
        self.box_path, self.rules = box, tuple(rules)
        self._shelving = Shelving(books)
        self._serials = count(1)
        self._trade = _Kept(self._rule_files, self._read_trade)
        self._box = _Kept(lambda: [*self._rule_files(), *([box] if box else [])], self._read_box)
        self._shelf_lock = Lock()

    @property
    def books(self) -> tuple[Path, ...]:
        """The books by their paths."""
        return self._shelving.books

    @property
    def trade(self) -> Trade:
        """The rules; raises `InputError` when one of the user's own can't be read."""
        return self._trade.value()

    @property
    def held(self) -> HeldBox | None:
        """The box as it is now; None where the page has none. Raises `InputError`."""
        return None if self.box_path is None else self._box.value()

    @property
    def shelf(self) -> Shelf:
        """The books as they are now."""
        trade = self.trade
        with self._shelf_lock:
            return self._shelving.shelf(trade.rulebook.trade, trade.glossary)

    def _rule_files(self) -> list[Path]:
        return [
            file
            for folder in self.rules
            for file in sorted(folder.rglob("*"))
            if file.suffix in (".toml", ".tsv")
        ]

    def _read_trade(self) -> Trade:
        rulebook = load_rulebook(self.rules)
        glossary = load_glossary([own_rules_folder(), *self.rules], rulebook.trade)
        return Trade(rulebook, glossary, load_layout(self.rules), next(self._serials))

    def _read_box(self) -> HeldBox:
        assert self.box_path is not None  # `held` asks only where there is one
        trade = self.trade.rulebook.trade
        while True:
            before = version_of(self.box_path)
            box = read_box(self.box_path, trade)
            if version_of(self.box_path) == before:
                return HeldBox(box, before)


def version_of(path: Path) -> str:
    """Return a digest of a file, short enough to travel in a form; empty where there is none."""
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()[:20]
    except OSError:
        return ""
