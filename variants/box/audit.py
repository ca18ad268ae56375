"""A box checked against its journal, and the recovery of either from the other.

`audit` writes nothing. `rebuild` and `restart_journal` rename what they replace to a backup name
first, so that a wrong decision loses nothing.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from pathlib import Path

from variants.box import transaction
from variants.box.atomic_replace import set_aside
from variants.box.atomic_write import write_bytes_atomically
from variants.box.box_text import BoxText, sha256_of
from variants.box.changes import ItemChange, diff_boxes
from variants.box.journal import journal_path, load_journal, replay
from variants.box.journal_entry import JournalEntry
from variants.box.paths import real_path
from variants.model import Trade
from variants.reading import InputError, parse_box, read_bytes
from variants.reading.sheets import convert_to_commas


class FindingKind(Enum):
    """What an audit may find, with the sentence that explains it."""

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


#: What is no disagreement.
NOTES = (FindingKind.NO_JOURNAL, FindingKind.CLOCK)


@dataclass(frozen=True, slots=True)
class AuditFinding:
    """One thing that an audit found.

    Attributes
    ----------
    kind : FindingKind
    entry : int
        The number of the entry it is about; 0 where it is about none.
    detail : str
        The message of the reader, where the box can't be read.
    changes : tuple of ItemChange
        What was edited by hand.
    """

    kind: FindingKind
    entry: int = 0
    detail: str = ""
    changes: tuple[ItemChange, ...] = ()


@dataclass(frozen=True, slots=True)
class Audit:
    """The result of a check of a box against its journal.

    Attributes
    ----------
    path : Path
    items : int or None
        How many items are in the box; None when it can't be read.
    entries : int
        How many valid entries the journal has.
    findings : tuple of AuditFinding
        In the order in which to look at them.
    """

    path: Path
    items: int | None
    entries: int
    findings: tuple[AuditFinding, ...]

    @property
    def agrees(self) -> bool:
        """Whether box and journal hold the same."""
        return all(finding.kind in NOTES for finding in self.findings)


def audit(box: str | Path, trade: Trade) -> Audit:
    """Check a box against its journal, without writing.

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
    journal = load_journal(path)
    entries, fault = journal.entries, journal.fault
    raw = read_bytes(path, str(box)) if path.exists() or not entries else None
    findings: list[AuditFinding] = []
    if fault is not None:
        findings.append(AuditFinding(FindingKind.DAMAGED, fault.origin.line))
    elif not entries:
        findings.append(AuditFinding(FindingKind.NO_JOURNAL))
    replayed, invalid = replay(entries)
    if invalid is not None:
        findings.append(AuditFinding(FindingKind.UNSOUND, invalid.number))
    if os.path.lexists(f"{path}{transaction.PENDING}"):
        findings.append(AuditFinding(FindingKind.UNDER_WAY, len(entries)))
    items = None
    if raw is None:
        findings.append(AuditFinding(FindingKind.BOX_GONE))
    else:
        items, about_box = _check_box(raw, str(box), trade, entries, replayed)
        findings += about_box
    findings += [
        AuditFinding(FindingKind.CLOCK, after.number)
        for before, after in pairwise(entries)
        if after.at < before.at
    ]
    return Audit(path, items, len(entries), tuple(findings))


def _check_box(
    raw: bytes, name: str, trade: Trade, entries: Sequence[JournalEntry], replayed: BoxText | None
) -> tuple[int | None, list[AuditFinding]]:
    """Return how many items a file holds, None when it can't be read, and what is found."""
    findings: list[AuditFinding] = []
    try:
        text = BoxText.of(raw, name)
        if entries and sha256_of(raw) != entries[-1].box:
            changes = diff_boxes(replayed, text) if replayed else ()
            number = entries[-1].number
            findings.append(AuditFinding(FindingKind.BY_HAND, number, changes=changes))
        return len(parse_box(convert_to_commas(text.text), name, trade).items), findings
    except InputError as problem:
        return None, [*findings, AuditFinding(FindingKind.BOX_FAULTY, detail=str(problem))]


def rebuild(box: str | Path) -> list[Path]:
    """Write a box again from the valid part of its journal.

    Parameters
    ----------
    box : path

    Returns
    -------
    list of Path
        The backups: of the box as it stood, and of a journal that was damaged.

    Raises
    ------
    InputError
        When the journal holds nothing to make it from, or a file can't be written.
    """
    path = _existing(box)
    with transaction.lock_box(path):
        journal = load_journal(path)
        replayed, invalid = replay(journal.entries)
        if replayed is None:
            remedy = "there is nothing to build the box from; look for a copy of it"
            raise transaction.box_error(path, "its journal holds no good entry", remedy)
        backups = [set_aside(path, path)] if path.exists() else []
        write_bytes_atomically(path, replayed.raw)
        if journal.fault is not None or invalid is not None:
            backups.append(set_aside(journal_path(path), journal_path(path)))
        transaction.discard_temporaries(path)
        transaction.recover(path)
    return backups


def restart_journal(box: str | Path) -> list[Path]:
    """Move the journal to a backup name, and begin another with the box as it stands. Writes.

    Parameters
    ----------
    box : path

    Returns
    -------
    list of Path
        The backup, where there was a journal.

    Raises
    ------
    InputError
        When the box can't be read, or a file can't be written.
    """
    path = _existing(box)
    with transaction.lock_box(path):
        BoxText.of(read_bytes(path, str(box)), str(box))
        journal = journal_path(path)
        backups = [set_aside(journal, journal)] if os.path.lexists(journal) else []
        transaction.discard_temporaries(path)
        transaction.recover(path)
    return backups


def _existing(box: str | Path) -> Path:
    """Return the file of a box of which there is at least a journal."""
    path = real_path(box)
    if not transaction.exists(path):
        raise transaction.missing_box_error(Path(box))
    return path
