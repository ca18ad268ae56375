"""The operations on a box as plans: the state of a box comes in, the changes to it come out.

Nothing is written here. A plan is made under the lock, from the box that is then there. Each
function takes the state of the box and its file's name, for messages, and raises `InputError` with
the column when the operation makes no sense.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from variants.box.amounts import (
    Amount,
    AmountError,
    add,
    parse_amount,
    subtract,
    subtract_number,
    with_unit,
)
from variants.box.box_text import BoxText
from variants.box.changes import ConflictError, ItemChange
from variants.box.journal import BEGUN
from variants.box.journal_entry import JournalEntry
from variants.model import Origin, plain
from variants.reading import Fault, InputError
from variants.text import nearest, shown

if TYPE_CHECKING:
    from variants.box.transaction import BoxState

UNDO = "undo"
#: So many items are named in one message.
_MOST_NAMED = 5


class Plan(NamedTuple):
    """The changes of one operation, and the number of the entry that it undoes."""

    changes: Sequence[ItemChange]
    undoes: int | None = None


def find_name(text: BoxText, item: str, file: str) -> str:
    """Return an item's name as the box writes it.

    Raises
    ------
    InputError
        When there is no such item, with the nearest names.
    """
    if text.has(item):
        return text.row(item)["item"]
    near = nearest(plain(item), text.names(), most=3)
    problem, remedy = f"there is no item {shown(item)} in the box", "look with 'flykin box find'"
    raise InputError([Fault(Origin(file), problem, remedy, near)])


def plan_add(state: BoxState, file: str, row: Mapping[str, str]) -> Plan:
    """Plan the addition of a new item with the cells of a row."""
    name = row["item"]
    if state.text.has(name):
        remedy = "give it a name of its own, or 'buy' more of the one that is there"
        raise _error(file, f"there is an item {shown(name)}", remedy, "item")
    return Plan([ItemChange(name, None, row)])


def plan_import(
    state: BoxState, file: str, rows: Sequence[Mapping[str, str]], may_correct: bool
) -> Plan:
    """Plan the import of the rows of a list: new items, and corrections where they are allowed."""
    changes = [change for row in rows if (change := _plan_row(state.text, row)) is not None]
    there = [change.item for change in changes if change.before is not None]
    if there and not may_correct:
        names = ", ".join(shown(name) for name in there[:_MOST_NAMED])
        rest = f" and {len(there) - _MOST_NAMED} more" if len(there) > _MOST_NAMED else ""
        problem = f"there are items {names}{rest}, and the list tells otherwise of them"
        remedy = "let them be corrected from the list, or give them other names"
        raise _error(file, problem, remedy, "item")
    if not changes:
        raise _error(file, "all of the list is in the box already")
    return Plan(changes)


def _plan_row(text: BoxText, row: Mapping[str, str]) -> ItemChange | None:
    """Return the change that a row of a list makes; None where the box holds just that."""
    cells = {name: cell.strip() for name, cell in row.items() if cell.strip()}
    item = cells["item"]
    if not text.has(item):
        return ItemChange(item, None, cells)
    present = text.row(item)
    name = present["item"]
    change = _change_cells(name, present, {**cells, "item": name})
    return change if change.after else None


def plan_use(state: BoxState, file: str, item: str, amount: str) -> Plan:
    """Plan to take an amount off an item."""
    name = find_name(state.text, item, file)
    before = _read_amount(state, name, file)
    return Plan([_change_amount(name, before, _compute(lambda: subtract(before, amount), file))])


def plan_buy(state: BoxState, file: str, item: str, amount: str, price: str) -> Plan:
    """Plan to add an amount to an item, with its price."""
    name = find_name(state.text, item, file)
    row = state.text.row(name)
    cell = row.get("amount", "")
    before = _read_amount(state, name, file) if cell else None
    change = _change_amount(name, before, _compute(lambda: add(before, amount), file))
    if price:
        cells = {"price": price, "price_for": with_unit(amount.strip(), cell)}
        priced = _change_cells(name, row, cells)
        change = replace(
            change,
            before={**(change.before or {}), **(priced.before or {})},
            after={**(change.after or {}), **(priced.after or {})},
        )
    return Plan([change])


def plan_correct(state: BoxState, file: str, item: str, cells: Mapping[str, str]) -> Plan:
    """Plan to set cells of an item."""
    name = find_name(state.text, item, file)
    new_name = cells.get("item", name)
    if plain(new_name) != plain(name) and state.text.has(new_name):
        raise _error(file, f"there is an item {shown(new_name)}", "name it otherwise", "item")
    change = _change_cells(name, state.text.row(name), cells)
    if not change.after:
        raise _error(file, f"{shown(name)} is so already", "nothing was changed")
    return Plan([change])


def plan_take(state: BoxState, file: str, amounts: Mapping[str, float]) -> Plan:
    """Plan to take several amounts, in the box's own units."""
    changes = []
    for item, number in sorted(amounts.items()):
        name = find_name(state.text, item, file)
        before = _read_amount(state, name, file)
        changes.append(_change_amount(name, before, subtract_number(before, number)))
    return Plan(changes)


def plan_undo(state: BoxState, file: str, number: int | None) -> Plan:
    """Plan to undo an entry of the journal: the last that still stands, or one by its number.

    Raises
    ------
    InputError
        When there is none, or it was undone already.
    ConflictError
        When an amount has changed since, be it by less than its cell shows.
    """
    entry = find_entry_to_undo(state.entries, number, file)
    changes = [change.inverse for change in reversed(entry.changes)]
    for change in changes:
        before = change.before or {}
        present = state.text.row(change.item) if state.text.has(change.item) else None
        if change.exact is None or not present or present.get("amount") != before.get("amount"):
            continue
        if state.exact.get(plain(change.item)) != Decimal(change.exact[0]):
            problem = f"the amount of {shown(change.item)} has changed since entry {entry.number}"
            remedy = "take back what came after it first: see 'flykin box history'"
            raise ConflictError([Fault(Origin(file), problem, remedy)])
    return Plan(changes, entry.number)


def _read_amount(state: BoxState, name: str, file: str) -> Amount:
    """Return the amount of an item: exactly, where the journal holds the exact one."""
    cell = state.text.row(name).get("amount", "")
    if not cell:
        remedy = "count it first: flykin box correct NAME --amount '25 feathers'"
        raise _error(file, f"{shown(name)} has no amount to take from", remedy, "amount")
    return _compute(lambda: parse_amount(cell, state.exact.get(plain(name))), file)


def _change_amount(name: str, before: Amount | None, after: Amount) -> ItemChange:
    cell, number = (before.cell, before.exact) if before else ("", Decimal(0))
    exact = f"{number:f}", f"{after.exact:f}"
    return ItemChange(name, {"amount": cell}, {"amount": after.cell}, exact)


def _change_cells(name: str, row: Mapping[str, str], after: Mapping[str, str]) -> ItemChange:
    was = {column: row.get(column.lower(), "") for column in after}
    differ = {column: cell for column, cell in after.items() if was[column] != cell}
    return ItemChange(name, {column: was[column] for column in differ}, differ)


def find_entry_to_undo(
    entries: Sequence[JournalEntry], number: int | None, file: str
) -> JournalEntry:
    """Return the entry to undo: the last that still stands, or one by its number.

    Raises
    ------
    InputError
        When there is none, or it was undone already.
    """
    done = {entry.undoes: entry.number for entry in entries if entry.undoes is not None}
    if number is None:
        # An entry whose undo was undone stands again.
        standing = [
            entry
            for entry in entries
            if entry.changes and entry.what != UNDO and not _is_undone(entry.number, done)
        ]
        if standing:
            return standing[-1]
        raise _error(file, "there is nothing to take back", "see 'flykin box history'")
    entry = next((one for one in entries if one.number == number), None)
    if entry is None:
        last = f"the last is entry {entries[-1].number}: " if entries else ""
        raise _error(file, f"there is no entry {number}", f"{last}see 'flykin box history'")
    if entry.what == BEGUN or not entry.changes:
        raise _error(file, f"entry {number} changed nothing", "see 'flykin box history'")
    if _is_undone(number, done):
        by = done[number]
        remedy = f"'flykin box undo {by}' brings it again"
        raise _error(file, f"entry {number} was taken back by entry {by}", remedy)
    return entry


def _is_undone(number: int, done: Mapping[int, int]) -> bool:
    is_undone = False
    while (number := done.get(number, 0)) > 0:
        is_undone = not is_undone
    return is_undone


def _compute(work: Callable[[], Amount], file: str) -> Amount:
    try:
        return work()
    except AmountError as problem:
        raise _error(file, str(problem), problem.remedy, "amount") from None


def _error(file: str, problem: str, remedy: str = "", field: str = "") -> InputError:
    return InputError([Fault(Origin(file, 0, field), problem, remedy)])
