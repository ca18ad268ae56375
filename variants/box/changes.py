"""The changes of a box, item by item: cells before and after; applied, inverted, and diffed.

A change is compared with the text as it stands before it is applied: where a cell is not what the
change says it was, someone else has changed the box, and the change is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from variants.box.box_text import SAVE_AGAIN, BoxText, UnencodableError
from variants.model import Origin, plain
from variants.reading import Fault, InputError
from variants.text import shown


class ConflictError(InputError):
    """The box has changed since it was read; read it again, then decide anew."""


@dataclass(frozen=True, slots=True)
class ItemChange:
    """The change of one item.

    Attributes
    ----------
    item : str
        Its name before; of a new one, its name.
    before, after : mapping of column to cell, or None
        The cells that differ, an empty text for an empty cell. None before: a new item, and
        ``after`` holds its whole row; None after: an item gone, and ``before`` holds it.
    exact : (str, str) or None
        The amount before and after, in the unit of its cell, exactly: the cell tells what can be
        measured. None where no amount was computed.
    """

    item: str
    before: Mapping[str, str] | None
    after: Mapping[str, str] | None
    exact: tuple[str, str] | None = None

    @property
    def kind(self) -> str:
        """Whether it adds an item, removes one, or changes its cells."""
        return "new" if self.before is None else "gone" if self.after is None else "cells"

    @property
    def inverse(self) -> ItemChange:
        """The change that undoes it."""
        name = (self.after or {}).get("item") or self.item
        exact = None if self.exact is None else (self.exact[1], self.exact[0])
        return ItemChange(name, self.after, self.before, exact)

    def record(self) -> dict[str, Any]:
        """Return its JSON record."""
        before = None if self.before is None else dict(self.before)
        after = None if self.after is None else dict(self.after)
        record = {"item": self.item, "before": before, "after": after}
        return record if self.exact is None else {**record, "exact": list(self.exact)}


def apply_changes(box: BoxText, changes: Iterable[ItemChange], file: str) -> BoxText:
    """Return a box with changes applied, one after the other.

    Parameters
    ----------
    box : BoxText
    changes : iterable of ItemChange
    file : str
        The box's name, for messages.

    Raises
    ------
    ConflictError
        When a cell is not what a change says it was.
    InputError
        When a letter can't be written in the encoding of the box.
    """
    queue = tuple(changes)
    first = 0
    while first < len(queue):
        # Changes of one kind to different items are applied together: a list may be long.
        kind, names, end = queue[first].kind, set(), first
        while end < len(queue) and queue[end].kind == kind:
            names.add(plain(queue[end].item))
            end += 1
            if _renames(queue[end - 1]) or (end < len(queue) and plain(queue[end].item) in names):
                break
        box = _apply_together(box, queue[first:end], file)
        first = end
    return box


def _apply_together(box: BoxText, changes: Sequence[ItemChange], file: str) -> BoxText:
    for change in changes:
        _refuse_conflict(box, change, file)
    try:
        if changes[0].before is None:
            return box.with_new_rows([change.after or {} for change in changes])
        if changes[0].after is None:
            return box.without_rows(change.item for change in changes)
        return box.with_cells({change.item: change.after or {} for change in changes})
    except UnencodableError as problem:
        raise _encoding_error(str(problem), box.encoding, file) from None


def _encoding_error(letter: str, encoding: str, file: str) -> InputError:
    """Return the error that asks for another encoding: it is the owner's to change."""
    problem = f"the box is saved as {encoding}, which has no letter {shown(letter)}"
    return InputError([Fault(Origin(file), problem, SAVE_AGAIN)])


def _renames(change: ItemChange) -> bool:
    return change.kind == "cells" and "item" in (change.after or {})


def _refuse_conflict(box: BoxText, change: ItemChange, file: str) -> None:
    """Refuse a change to what is not as the change says it was."""
    item = change.item
    if change.before is None:
        if box.has(item):
            raise _conflict_error(file, f"there is an item {shown(item)} by now")
        return
    if not box.has(item):
        raise _conflict_error(file, f"there is no item {shown(item)} any more")
    found = box.row(item)
    for column, cell in change.before.items():
        now = found.get(column.lower(), "")
        if now != cell:
            problem = f"the {column} of {shown(item)} has changed since it was read"
            now = now or "nothing"
            raise _conflict_error(file, f"{problem}: it is now {shown(now)}, and was {shown(cell)}")


def _conflict_error(file: str, problem: str) -> ConflictError:
    remedy = "ask again: the answer may be another one now"
    return ConflictError([Fault(Origin(file), problem, remedy)])


def diff_boxes(before: BoxText, after: BoxText) -> tuple[ItemChange, ...]:
    """Return the changes that lead from one box to another, but for comments and order."""
    old = {plain(name): name for name in before.names()}
    new = {plain(name): name for name in after.names()}
    found = [
        ItemChange(name, before.row(name), None) for key, name in old.items() if key not in new
    ]
    for key, name in new.items():
        row = after.row(name)
        if key not in old:
            found.append(ItemChange(name, None, row))
            continue
        was = before.row(old[key])
        differ = [column for column in {**was, **row} if was.get(column, "") != row.get(column, "")]
        if differ:
            found.append(
                ItemChange(
                    old[key],
                    {column: was.get(column, "") for column in differ},
                    {column: row.get(column, "") for column in differ},
                )
            )
    return tuple(found)
