"""A change to a box in a line of words, and the history of a box.

The JSON of a history is an object with ``version`` (1), ``box`` and ``entries``: ``number``,
``at``, ``what``, ``note``, ``undoes`` and ``changes`` (``item``, ``before`` and ``after``, each the
cells that differ, or null).
"""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from variants.keeping import Change, Entry
from variants.views.words import printable

WIDTH = 80
_MOST_CHANGES = 8
#: A whole row is told by these columns.
_TOLD = ("amount", "colour", "material", "place")


def change_words(change: Change) -> str:
    """Return what became of an item.

    >>> change_words(Change("cape", {"amount": "3 feathers"}, {"amount": "2 feathers"}))
    '“cape”: amount 3 feathers → 2 feathers'
    >>> change_words(Change("cape", None, {"item": "cape", "material": "hen cape"}))
    '“cape”: new (hen cape)'
    """
    name = f"“{printable(change.item)}”"
    if change.before is None:
        return f"{name}: new{_row_words(change.after or {})}"
    if change.after is None:
        return f"{name}: gone{_row_words(change.before)}"
    after = change.after
    told = [
        f"{printable(column)} {printable(cell) or 'nothing'} → "
        f"{printable(after.get(column, '')) or 'nothing'}"
        for column, cell in change.before.items()
    ]
    return f"{name}: {'; '.join(told)}"


def _row_words(row: Mapping[str, str]) -> str:
    told = [printable(row[column]) for column in _TOLD if row.get(column)]
    return f" ({', '.join(told)})" if told else ""


def history_lines(entries: Sequence[Entry], most: int | None = None) -> list[str]:
    """Return the latest entries of a journal, latest first.

    Parameters
    ----------
    entries : sequence of Entry
    most : int, optional
        How many.
    """
    undone = {entry.undoes: entry.number for entry in entries if entry.undoes is not None}
    width = len(str(len(entries)))
    lines: list[str] = []
    for entry in list(reversed(entries))[:most]:
        head = f"{entry.number:{width}}  {_when(entry.at)}  {printable(entry.what)}"
        if entry.undoes is not None:
            head += f" of {entry.undoes}"
        if entry.note:
            head += f", {printable(entry.note)}"
        if entry.number in undone:
            head += f"  (taken back by {undone[entry.number]})"
        lines += textwrap.wrap(head, WIDTH, subsequent_indent=" " * (width + 4))
        for change in entry.changes[:_MOST_CHANGES]:
            lead = " " * (width + 2)
            lines += textwrap.wrap(
                change_words(change), WIDTH, initial_indent=lead, subsequent_indent=lead + "  "
            )
        if len(entry.changes) > _MOST_CHANGES:
            lines.append(f"{' ' * (width + 2)}and {len(entry.changes) - _MOST_CHANGES} more")
    return lines


def _when(at: str) -> str:
    """Return a time as the clock on the wall shows it."""
    try:
        return datetime.fromisoformat(at).astimezone().strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return printable(at[:16])


def history_json(entries: Sequence[Entry], box: str) -> dict[str, Any]:
    """Return a history; see the module for the shape."""
    return {
        "version": 1,
        "box": box,
        "entries": [
            {
                "number": entry.number,
                "at": entry.at,
                "what": entry.what,
                "note": entry.note,
                "undoes": entry.undoes,
                "changes": [change.record() for change in entry.changes],
            }
            for entry in entries
        ],
    }
