"""What a command does to a box: cells before and after, by item; done whole, undone, and found.

A change is tried against the text as it stands: where a cell is not what the change says it was,
someone else has been at the box, and nothing is changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from variants.box.texts import SAVE_AGAIN, BoxText, LettersError
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
    exact : (str, str) or None
        The amount before and after, in the unit of its cell, exactly: the cell tells what can be
        measured. None where no amount was reckoned.
    """

    item: str
    before: Mapping[str, str] | None
    after: Mapping[str, str] | None
    exact: tuple[str, str] | None = None

    @property
    def sort(self) -> str:
        """Whether it adds an item, removes one, or changes its cells."""
        return "new" if self.before is None else "gone" if self.after is None else "cells"

    @property
    def inverse(self) -> Change:
        """What undoes it."""
        name = (self.after or {}).get("item") or self.item
        exact = None if self.exact is None else (self.exact[1], self.exact[0])
        return Change(name, self.after, self.before, exact)

    def record(self) -> dict[str, Any]:
        """Return it as the journal holds it."""
        before = None if self.before is None else dict(self.before)
        after = None if self.after is None else dict(self.after)
        told = {"item": self.item, "before": before, "after": after}
        return told if self.exact is None else {**told, "exact": list(self.exact)}


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
    told = tuple(changes)
    done = 0
    while done < len(told):
        # Changes of one sort to different items are made together: a list may be long.
        sort, names, last = told[done].sort, set(), done
        while last < len(told) and told[last].sort == sort:
            name = plain(told[last].item)
            names.add(name)
            last += 1
            if _renames(told[last - 1]) or (last < len(told) and plain(told[last].item) in names):
                break
        box = _applied(box, told[done:last], file)
        done = last
    return box


def _applied(box: BoxText, changes: Sequence[Change], file: str) -> BoxText:
    for change in changes:
        _check(box, change, file)
    try:
        if changes[0].before is None:
            return box.with_new_rows([change.after or {} for change in changes])
        if changes[0].after is None:
            return box.without_rows(change.item for change in changes)
        return box.with_cells({change.item: change.after or {} for change in changes})
    except LettersError as problem:
        raise _unwritable(str(problem), box.encoding, file) from None


def _unwritable(letter: str, encoding: str, file: str) -> InputError:
    """Return the error that asks for another encoding: it is the owner's to change."""
    problem = f"the box is saved as {encoding}, which has no letter {shown(letter)}"
    return InputError([Fault(Origin(file), problem, SAVE_AGAIN)])


def _renames(change: Change) -> bool:
    return change.sort == "cells" and "item" in (change.after or {})


def _check(box: BoxText, change: Change, file: str) -> None:
    """Refuse a change to what is not as the change says it was."""
    item = change.item
    if change.before is None:
        if box.has(item):
            raise _conflict(file, f"there is an item {shown(item)} by now")
        return
    if not box.has(item):
        raise _conflict(file, f"there is no item {shown(item)} any more")
    found = box.row(item)
    for column, cell in change.before.items():
        now = found.get(column.lower(), "")
        if now != cell:
            problem = f"the {column} of {shown(item)} has changed since it was read"
            now = now or "nothing"
            raise _conflict(file, f"{problem}: it is now {shown(now)}, and was {shown(cell)}")


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
