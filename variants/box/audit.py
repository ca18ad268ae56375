"""A box held against its journal: what does not fit and why, and the box built again from it.

Nothing is written by looking. What is put in the place of something else sets that aside first,
under a name of its own, so that a wrong decision loses nothing.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from pathlib import Path

from variants.box import commits
from variants.box.changes import Change, changes_between
from variants.box.entries import Entry
from variants.box.journal import journal_path, read_entries
from variants.box.paths import real_path
from variants.box.pieces import with_pieces
from variants.box.replacing import set_aside
from variants.box.texts import BoxText, cut, sum_of
from variants.box.writing import write_whole_bytes
from variants.model import Trade
from variants.reading import InputError, box_of, bytes_of
from variants.reading.sheets import by_commas


class Finding(Enum):
    """What may be found about a box and its journal, with the sentence that explains it."""

    NO_JOURNAL = "there is no journal yet: Flykin has not changed this box"
    BOX_GONE = "the box is gone; its journal is there"
    BOX_FAULTY = "the box can't be read as it stands"
    BY_HAND = (
        "the box was edited by hand since the last entry; the next command writes the edit into "
        "the journal"
    )
    UNDER_WAY = "a command was stopped while it wrote; the next one ends what it began"
    DAMAGED = "the journal was changed, or lines of it are lost"
    UNSOUND = "the journal does not lead to the box that it says it leads to"
    CLOCK = "the clock ran back here; the order is that of the numbers, and nothing is lost by it"


#: What is no more than worth knowing.
NOTES = (Finding.NO_JOURNAL, Finding.CLOCK)


@dataclass(frozen=True, slots=True)
class Found:
    """One thing found.

    Attributes
    ----------
    finding : Finding
    entry : int
        The number of the entry it is about; 0 where it is about none.
    detail : str
        The file's own fault, where there is one.
    changes : tuple of Change
        What was done by hand.
    """

    finding: Finding
    entry: int = 0
    detail: str = ""
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class Audit:
    """A box held against its journal.

    Attributes
    ----------
    path : Path
    items : int or None
        How many are in the box; None when it can't be read.
    entries : int
        How many entries of the journal are good.
    found : tuple of Found
        In the order in which they are to be looked at.
    """

    path: Path
    items: int | None
    entries: int
    found: tuple[Found, ...]

    @property
    def agrees(self) -> bool:
        """Whether box and journal tell the same."""
        return all(one.finding in NOTES for one in self.found)


def audit(box: str | Path, trade: Trade) -> Audit:
    """Hold a box against its journal; nothing is written.

    Parameters
    ----------
    box : path
    trade : Trade

    Raises
    ------
    InputError
        When there is neither box nor journal, or the journal can't be opened.
    """
    path = real_path(box)
    journal = read_entries(path)
    entries, fault = journal.entries, journal.fault
    found: list[Found] = []
    raw = None
    if path.exists() or not entries:
        raw = bytes_of(path, str(box))
    if fault is not None:
        found.append(Found(Finding.DAMAGED, fault.origin.line))
    elif not entries:
        found.append(Found(Finding.NO_JOURNAL))
    sound, unsound = _sound(entries)
    if unsound is not None:
        found.append(Found(Finding.UNSOUND, unsound.number))
    if os.path.lexists(f"{path}{commits.PENDING}"):
        found.append(Found(Finding.UNDER_WAY, len(entries)))
    items = None
    if raw is None:
        found.append(Found(Finding.BOX_GONE))
    else:
        items, about_box = _of_box(raw, str(box), trade, entries, sound)
        found += about_box
    found += [
        Found(Finding.CLOCK, after.number)
        for before, after in pairwise(entries)
        if after.at < before.at
    ]
    return Audit(path, items, len(entries), tuple(found))


def _sound(entries: Sequence[Entry]) -> tuple[BoxText | None, Entry | None]:
    """Return the box as the journal tells it, and the first entry that does not add up."""
    lines: list[str] = []
    box = None
    for entry in entries:
        lines = list(cut(entry.text)) if entry.text is not None else lines
        lines = with_pieces(lines, entry.pieces)
        told = BoxText("".join(lines), entry.encoding)
        try:
            is_sound = sum_of(told.raw) == entry.box
        except UnicodeEncodeError:
            is_sound = False
        if not is_sound:
            return box, entry
        box = told
    return box, None


def _of_box(
    raw: bytes, name: str, trade: Trade, entries: Sequence[Entry], told: BoxText | None
) -> tuple[int | None, list[Found]]:
    found: list[Found] = []
    try:
        text = BoxText.of(raw, name)
    except InputError as problem:
        return None, [Found(Finding.BOX_FAULTY, detail=str(problem))]
    if entries and sum_of(raw) != entries[-1].box:
        changes = changes_between(told, text) if told else ()
        found.append(Found(Finding.BY_HAND, entries[-1].number, changes=changes))
    try:
        items = len(box_of(by_commas(text.text), name, trade).items)
    except InputError as problem:
        return None, [*found, Found(Finding.BOX_FAULTY, detail=str(problem))]
    return items, found


def rebuild(box: str | Path) -> list[Path]:
    """Build a box again from the good part of its journal.

    Parameters
    ----------
    box : path

    Returns
    -------
    list of Path
        What was set aside: the box as it stood, and a journal that was damaged.

    Raises
    ------
    InputError
        When the journal holds nothing to build it from, or a file can't be written.
    """
    path = real_path(box)
    if not commits.is_there(path):
        raise commits.no_such_file(Path(box))
    with commits.locked(path):
        journal = read_entries(path)
        entries, fault = journal.entries, journal.fault
        told, unsound = _sound(entries)
        if told is None:
            remedy = "there is nothing to build the box from; look for a copy of it"
            raise commits.refused(path, "its journal holds no good entry", remedy)
        aside = []
        if path.exists():
            aside.append(set_aside(path, path))
        write_whole_bytes(path, told.raw)
        if fault is not None or unsound is not None:
            aside.append(set_aside(journal_path(path), journal_path(path)))
        commits.clear(path)
        commits.settled(path)
    return aside


def begin_anew(box: str | Path) -> list[Path]:
    """Set the journal aside and begin another with the box as it stands.

    Returns
    -------
    list of Path
        What was set aside.

    Raises
    ------
    InputError
        When the box can't be read, or a file can't be written.
    """
    path = real_path(box)
    if not commits.is_there(path):
        raise commits.no_such_file(Path(box))
    with commits.locked(path):
        BoxText.of(bytes_of(path, str(box)), str(box))
        journal = journal_path(path)
        aside = [set_aside(journal, journal)] if os.path.lexists(journal) else []
        commits.clear(path)
        commits.settled(path)
    return aside
