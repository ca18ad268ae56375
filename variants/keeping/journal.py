"""What is taken from a box: written into a journal beside it, then off the box, under a lock.

The journal ``box.csv.journal`` is append-only: one JSON object a line, numbered, each with a
checksum over itself and the line before, so that a change or a loss in the middle shows. What is
about to be done is first written beside the box as ``box.csv.pending``; then the box is written,
whole or not at all, the one before kept as ``box.csv.previous``; then the journal; then the pending
file goes. Should the machine stop in between, the next command sees by the box whether it was done,
and ends it.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import re
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from variants.keeping.writing import write_whole
from variants.model import Origin, plain
from variants.reading import Fault, InputError, read_text

JOURNAL, PREVIOUS, LOCK, PENDING = ".journal", ".previous", ".lock", ".pending"
#: So long a command waits for another one to let go of the box.
PATIENCE_S = 10.0
_COMMENT = "#"
_NUMBER = re.compile(r"\d+(?:\.\d+)?(?![\d/])")


@dataclass(frozen=True, slots=True)
class Taking:
    """What is taken of one item: the amount as it was read, and as it is to be.

    ``before`` and ``after`` are the cells of the box, such as ``"25 feathers"``.
    """

    item: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a journal."""

    number: int
    at: str
    what: str
    takings: tuple[Taking, ...]


def write_off(box: str | Path, what: str, takings: Sequence[Taking]) -> Entry:
    """Write takings off a box, all or none.

    Parameters
    ----------
    box : path
        A CSV file; its other columns, comments and order stay as they are.
    what : str
        What they were taken for, for the journal.
    takings : sequence of Taking

    Raises
    ------
    InputError
        When the box has changed since it was read, another command holds it, the journal has been
        tampered with, or a file can't be written. The box and the journal are then as before.
    """
    from filelock import FileLock, Timeout

    path = Path(box)
    lock = FileLock(f"{path}{LOCK}", timeout=PATIENCE_S)
    try:
        with lock:
            _end_what_was_begun(path)
            return _write_off(path, what, takings)
    except Timeout:
        raise _refused(path, "another command is at work on the box", "try again") from None
    except OSError as problem:
        reason = (problem.strerror or "unknown reason").lower()
        raise _refused(path, f"can't be written: {reason}", "check the folder") from None


def _write_off(path: Path, what: str, takings: Sequence[Taking]) -> Entry:
    changed = _with_amounts(path, read_text(path), takings)
    now = datetime.now(UTC).isoformat(timespec="seconds")
    entry = Entry(len(read_journal(path)) + 1, now, what, tuple(takings))
    pending = Path(f"{path}{PENDING}")
    write_whole(pending, json.dumps({"entry": _record(entry), "box": _sum(changed)}))
    try:
        shutil.copyfile(path, f"{path}{PREVIOUS}")
        write_whole(path, changed)
    except BaseException:
        # The box is as it was, so nothing is pending.
        pending.unlink(missing_ok=True)
        raise
    _append(path, _record(entry))
    pending.unlink(missing_ok=True)
    return entry


def _record(entry: Entry) -> dict[str, Any]:
    return {
        "number": entry.number,
        "at": entry.at,
        "what": entry.what,
        "takings": [
            {"item": one.item, "before": one.before, "after": one.after} for one in entry.takings
        ],
    }


def _sum(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _end_what_was_begun(path: Path) -> None:
    """Put into the journal what a stopped machine did to the box, or forget what it did not do."""
    pending = Path(f"{path}{PENDING}")
    if not pending.is_file():
        return
    told = json.loads(pending.read_text(encoding="utf-8"))
    is_done = _sum(path.read_text(encoding="utf-8")) == told["box"]
    if is_done and len(read_journal(path)) < told["entry"]["number"]:
        _append(path, told["entry"])
    pending.unlink()


def read_journal(box: str | Path) -> list[Entry]:
    """Return the entries of a box's journal; none where there is no journal.

    A last line that was cut short, by a machine that stopped, is left out.

    Raises
    ------
    InputError
        When a line in it does not fit its checksum or its place.
    """
    path = Path(f"{box}{JOURNAL}")
    if not path.is_file():
        return []
    entries: list[Entry] = []
    lines = path.read_text(encoding="utf-8").split("\n")
    before = ""
    for place, line in enumerate(lines[:-1], start=1):
        record = _checked(path, place, line, before)
        takings = tuple(Taking(**one) for one in record["takings"])
        entries.append(Entry(record["number"], record["at"], record["what"], takings))
        before = record["checksum"]
    return entries


def _checked(path: Path, place: int, line: str, before: str) -> dict[str, Any]:
    try:
        record = json.loads(line)
        is_right = record["number"] == place and record["checksum"] == _checksum(record, before)
    except (ValueError, KeyError, TypeError):
        is_right = False
    if not is_right:
        raise InputError(
            [
                Fault(
                    Origin(str(path), place),
                    "this line does not fit its checksum: it was changed, or lines are lost",
                    "put the journal back from a copy, or move it away to begin a new one",
                )
            ]
        )
    return dict(record)


def _checksum(record: Mapping[str, Any], before: str) -> str:
    rest = {name: value for name, value in record.items() if name != "checksum"}
    told = json.dumps(rest, sort_keys=True, ensure_ascii=False) + before
    return hashlib.sha256(told.encode()).hexdigest()


def _append(box: Path, record: dict[str, Any]) -> None:
    path = Path(f"{box}{JOURNAL}")
    before, kept = "", 0
    if path.is_file():
        raw = path.read_bytes()
        kept = raw.rfind(b"\n") + 1  # what follows was cut short
        lines = raw[:kept].decode("utf-8").splitlines()
        before = json.loads(lines[-1])["checksum"] if lines else ""
    line = json.dumps({**record, "checksum": _checksum(record, before)}, ensure_ascii=False)
    with open(path, "r+b" if path.is_file() else "wb") as file:
        file.truncate(kept)
        file.seek(kept)
        file.write((line + "\n").encode())
        file.flush()
        os.fsync(file.fileno())


def _rows(text: str) -> tuple[list[str], int, list[list[str]]]:
    """Return the lines before the header, the place of the header, and all rows from it on."""
    lines = text.splitlines(keepends=True)
    first = next(
        (
            place
            for place, line in enumerate(lines)
            if line.strip() and not line.startswith(_COMMENT)
        ),
        len(lines),
    )
    return lines[:first], first, list(csv.reader(io.StringIO("".join(lines[first:]))))


def _columns(rows: Sequence[Sequence[str]]) -> tuple[int, int]:
    header = [cell.strip().lower() for cell in rows[0]]
    return header.index("item"), header.index("amount")


def takings(box: str | Path, taken: Mapping[str, float]) -> list[Taking]:
    """Return what is to be written off a box, by how much is taken of each item.

    Parameters
    ----------
    box : path
    taken : mapping of item id to amount
        In the unit in which the box counts the item.

    Raises
    ------
    InputError
        When an item is not in the box, or its amount is no number with a unit.
    """
    path = Path(box)
    cells = _amounts(path, read_text(path))
    found = []
    for item, amount in sorted(taken.items()):
        cell = cells.get(plain(item), "")
        told = _NUMBER.match(cell)
        if told is None:
            raise _refused(path, f"'{item}' has no amount to take from", "count it first")
        left = max(0.0, float(told[0].replace(",", ".")) - amount)
        found.append(Taking(item, cell, f"{left:.6g}{cell[told.end() :]}"))
    return found


def _amounts(path: Path, text: str) -> dict[str, str]:
    _, _, rows = _rows(text)
    if not rows or "amount" not in [cell.strip().lower() for cell in rows[0]]:
        return {}
    item, amount = _columns(rows)
    return {
        plain(row[item]): row[amount].strip() for row in rows[1:] if len(row) > max(item, amount)
    }


def _with_amounts(path: Path, text: str, takings: Sequence[Taking]) -> str:
    """Return a box's text with new amounts; comments, order and other cells stay."""
    found = _amounts(path, text)
    for one in takings:
        if found.get(plain(one.item)) != one.before:
            raise _refused(
                path,
                f"the amount of '{one.item}' has changed since it was read",
                "ask again: the answer may be another one now",
            )
    wanted = {plain(one.item): one.after for one in takings}
    comments, _, rows = _rows(text)
    item, amount = _columns(rows)
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    for place, row in enumerate(rows):
        if place and len(row) > max(item, amount) and plain(row[item]) in wanted:
            row = [*row]
            row[amount] = wanted[plain(row[item])]
        writer.writerow(row)
    return "".join(comments) + written.getvalue()


def _refused(path: Path, problem: str, remedy: str) -> InputError:
    return InputError([Fault(Origin(str(path)), problem, remedy)])
