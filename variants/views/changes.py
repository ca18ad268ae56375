"""A change to a box in a line of words, and the history of a box.

The JSON of a history is an object with ``version`` (1), ``box`` and ``entries``: ``number``,
``at``, ``what``, ``note``, ``undoes`` and ``changes`` (``item``, ``before`` and ``after``, each the
cells that differ, or null; where an amount was reckoned ``exact``, the number before and after of
which the cells tell what can be measured).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from variants.box import ItemChange, JournalEntry
from variants.model import plain
from variants.text import printable
from variants.views.columns import wrap

_MOST_CHANGES = 8
#: A whole row is told by these columns.
_TOLD = ("amount", "colour", "material", "place")


def change_words(change: ItemChange) -> str:
    """Return what became of an item.

    >>> change_words(ItemChange("cape", {"amount": "3 feathers"}, {"amount": "2 feathers"}))
    '“cape”: amount 3 feathers → 2 feathers'
    >>> change_words(ItemChange("cape", None, {"item": "cape", "material": "hen cape"}))
    '“cape”: new (hen cape)'
    """
    name = f"“{printable(change.item)}”"
    if change.before is None:
        return f"{name}: new{_row_words(change.after or {})}"
    if change.after is None:
        return f"{name}: gone{_row_words(change.before)}"
    after = change.after
    told = [
        f"{printable(column).replace('_', ' ')} {printable(cell) or 'nothing'} → "
        f"{printable(after.get(column, '')) or 'nothing'}"
        for column, cell in change.before.items()
    ]
    return f"{name}: {'; '.join(told)}{_exact_words(change)}"


def _exact_words(change: ItemChange) -> str:
    """Return what is left exactly, where less was taken than the cell tells.

    >>> _exact_words(ItemChange("reel", {"amount": "9 m"}, {"amount": "9 m"}, ("9", "8.98")))
    ' (8.98 exactly)'
    """
    before, after = change.before or {}, change.after or {}
    if change.exact is None or before.get("amount") != after.get("amount"):
        return ""
    return f" ({float(change.exact[1]):.4g} exactly)"


def _row_words(row: Mapping[str, str]) -> str:
    told = [printable(row[column]) for column in _TOLD if row.get(column)]
    return f" ({', '.join(told)})" if told else ""


def change_lines(changes: Sequence[ItemChange], indent: int = 0) -> list[str]:
    """Return changes line by line, the first of many."""
    lead = " " * indent
    lines = []
    for change in changes[:_MOST_CHANGES]:
        lines += wrap(change_words(change), initial_indent=lead, subsequent_indent=f"{lead}  ")
    if len(changes) > _MOST_CHANGES:
        lines.append(f"{lead}and {len(changes) - _MOST_CHANGES} more")
    return lines


def of_item(entries: Sequence[JournalEntry], item: str) -> list[JournalEntry]:
    """Return the entries that tell of an item, with what they tell of it, through its names."""
    name, found = plain(item), []
    for entry in reversed(entries):
        changes = [change for change in entry.changes if name in _names(change)]
        if changes:
            found.append(replace(entry, changes=tuple(changes)))
            name = plain(changes[0].item)
    return found[::-1]


def _names(change: ItemChange) -> set[str]:
    return {plain(change.item), plain((change.after or {}).get("item") or change.item)}


def by_hand_lines(changes: Sequence[ItemChange] | None) -> list[str]:
    """Return what was done to the box by hand and is not in the journal yet."""
    if changes is None:
        return []
    told = change_lines(changes, 2) or ["  comments, order or the way of writing only"]
    return ["Edited by hand since the last entry; the next command takes it up:", *told, ""]


def history_lines(
    told: Sequence[JournalEntry], entries: Sequence[JournalEntry], most: int
) -> list[str]:
    """Return the latest entries of a journal, latest first.

    Parameters
    ----------
    told : sequence of JournalEntry
        Those to tell.
    entries : sequence of JournalEntry
        All of the journal.
    most : int
        How many.
    """
    if not told:
        return ["Nothing was changed yet."]
    undone = {entry.undoes: entry.number for entry in entries if entry.undoes is not None}
    width = len(str(len(entries)))
    lines: list[str] = []
    for entry in list(reversed(told))[:most]:
        head = f"{entry.number:{width}}  {clock_words(entry.at)}  {printable(entry.what)}"
        if entry.undoes is not None:
            head += f" of {entry.undoes}"
        if entry.note:
            head += f", {printable(entry.note)}"
        if entry.number in undone:
            head += f"  (taken back by {undone[entry.number]})"
        lines += wrap(head, subsequent_indent=" " * (width + 4))
        lines += change_lines(entry.changes, width + 2)
    if len(told) > most:
        lines.append(f"and {len(told) - most} before (--best {len(told)})")
    return lines


def clock_words(at: str) -> str:
    """Return a time as the clock on the wall shows it."""
    try:
        return datetime.fromisoformat(at).astimezone().strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return printable(at[:16])


def history_json(entries: Sequence[JournalEntry], box: str) -> dict[str, Any]:
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
