"""What a command does to a box: cells before and after, by item; done whole, undone, and found.

A change is tried against the text as it stands: where a cell is not what the change says it was,
someone else has been at the box, and nothing is changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from variants.keeping.texts import BoxText
from variants.model import Origin, plain
from variants.reading import Fault, InputError, shown


class ConflictError(InputError):
    """The box is not what it was when it was asked about; ask again, then decide anew."""


@dataclass(frozen=True, slots=True)
class Change:
    """What becomes of one item.

    Attributes
    ----------
    item : str
        Its name before; of a new one, its name.
    before, after : mapping of column to cell, or None
        The cells that differ, an empty text for an empty cell. None before: a new item, and
        ``after`` holds its whole row; None after: an item gone, and ``before`` holds it.
    """

    item: str
    before: Mapping[str, str] | None
    after: Mapping[str, str] | None

    @property
    def inverse(self) -> Change:
        """What undoes it."""
        name = (self.after or {}).get("item") or self.item
        return Change(name, self.after, self.before)

    def record(self) -> dict[str, Any]:
        """Return it as the journal holds it."""
        before = None if self.before is None else dict(self.before)
        after = None if self.after is None else dict(self.after)
        return {"item": self.item, "before": before, "after": after}


def applied(box: BoxText, changes: Iterable[Change], file: str) -> BoxText:
    """Return a box with changes made.

    Parameters
    ----------
    box : BoxText
    changes : iterable of Change
    file : str
        The box's name, for messages.

    Raises
    ------
    ConflictError
        When a cell is not what a change says it was.
    """
    for change in changes:
        box = _applied(box, change, file)
    return box


def _applied(box: BoxText, change: Change, file: str) -> BoxText:
    item = change.item
    if change.before is None:
        if box.has(item):
            raise _conflict(file, f"there is an item {shown(item)} by now")
        return box.with_new_row(change.after or {})
    if not box.has(item):
        raise _conflict(file, f"there is no item {shown(item)} any more")
    found = box.row(item)
    for column, cell in change.before.items():
        if found.get(column, "") != cell:
            problem = f"the {column} of {shown(item)} has changed since it was read"
            now = found.get(column, "") or "nothing"
            raise _conflict(file, f"{problem}: it is now {shown(now)}, and was {shown(cell)}")
    if change.after is None:
        return box.without_row(item)
    return box.with_row(item, change.after)


def _conflict(file: str, problem: str) -> ConflictError:
    remedy = "ask again: the answer may be another one now"
    return ConflictError([Fault(Origin(file), problem, remedy)])


def changes_between(before: BoxText, after: BoxText) -> tuple[Change, ...]:
    """Return what became of each item from one text to another; comments and order tell nothing."""
    old = {plain(name): name for name in before.names()}
    new = {plain(name): name for name in after.names()}
    found = [Change(name, before.row(name), None) for key, name in old.items() if key not in new]
    for key, name in new.items():
        row = after.row(name)
        if key not in old:
            found.append(Change(name, None, row))
            continue
        was = before.row(old[key])
        differ = [column for column in {**was, **row} if was.get(column, "") != row.get(column, "")]
        if differ:
            found.append(
                Change(
                    old[key],
                    {column: was.get(column, "") for column in differ},
                    {column: row.get(column, "") for column in differ},
                )
            )
    return tuple(found)
