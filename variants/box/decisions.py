"""What a command makes of a box: the text as it stands comes in, the changes to it go out.

Nothing is written here. A decision is taken under the lock, from the box that is then there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from variants.box.amounts import AmountError, Stock, less, minus, more, stock_of, with_unit
from variants.box.changes import Change, ConflictError
from variants.box.entries import Entry
from variants.box.journal import BEGUN
from variants.box.texts import BoxText
from variants.model import Origin, plain
from variants.reading import Fault, InputError, nearest, shown

if TYPE_CHECKING:
    from variants.box.commits import Kept

UNDO = "undo"
#: So many items are named in one message.
_MOST_NAMED = 5


def known(text: BoxText, item: str, file: str) -> str:
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


def added(text: BoxText, row: Mapping[str, str], file: str) -> list[Change]:
    """Return what puts a new item into a box."""
    name = row["item"]
    if text.has(name):
        remedy = "give it a name of its own, or 'buy' more of the one that is there"
        raise _wrong(file, f"there is an item {shown(name)}", remedy, "item")
    return [Change(name, None, row)]


def brought_in(
    text: BoxText, rows: Sequence[Mapping[str, str]], may_correct: bool, file: str
) -> list[Change]:
    """Return what takes the rows of a list into a box."""
    changes = [change for row in rows if (change := _brought(text, row)) is not None]
    there = [change.item for change in changes if change.before is not None]
    if there and not may_correct:
        names = ", ".join(shown(name) for name in there[:_MOST_NAMED])
        rest = f" and {len(there) - _MOST_NAMED} more" if len(there) > _MOST_NAMED else ""
        problem = f"there are items {names}{rest}, and the list tells otherwise of them"
        remedy = "let them be corrected from the list, or give them other names"
        raise _wrong(file, problem, remedy, "item")
    if not changes:
        raise _wrong(file, "all of the list is in the box already")
    return changes


def _brought(text: BoxText, row: Mapping[str, str]) -> Change | None:
    """Return what a row of a list makes of a box; None where the box holds just that."""
    told = {name: cell.strip() for name, cell in row.items() if cell.strip()}
    item = told["item"]
    if not text.has(item):
        return Change(item, None, told)
    row_there = text.row(item)
    name = row_there["item"]
    change = _cells_changed(name, row_there, {**told, "item": name})
    return change if change.after else None


def used(kept: Kept, item: str, amount: str, file: str) -> list[Change]:
    """Return what takes an amount off an item."""
    name = known(kept.text, item, file)
    stock = _stock(kept, name, file)
    return [_amount_changed(name, stock, _sum(lambda: less(stock, amount), file))]


def bought(kept: Kept, item: str, amount: str, price: str, file: str) -> list[Change]:
    """Return what adds an amount to an item, and its price."""
    name = known(kept.text, item, file)
    row = kept.text.row(name)
    cell = row.get("amount", "")
    stock = _stock(kept, name, file) if cell else None
    change = _amount_changed(name, stock, _sum(lambda: more(stock, amount), file))
    if not price:
        return [change]
    told = {"price": price, "price_for": with_unit(amount.strip(), cell)}
    also = _cells_changed(name, row, told)
    before, after = ({**(mine or {}), **(more or {})} for mine, more in
                     ((change.before, also.before), (change.after, also.after)))  # fmt: skip
    return [replace(change, before=before, after=after)]


def corrected(text: BoxText, item: str, cells: Mapping[str, str], file: str) -> list[Change]:
    """Return what sets cells of an item right."""
    name = known(text, item, file)
    new_name = cells.get("item", name)
    if plain(new_name) != plain(name) and text.has(new_name):
        raise _wrong(file, f"there is an item {shown(new_name)}", "name it otherwise", "item")
    change = _cells_changed(name, text.row(name), cells)
    if not change.after:
        raise _wrong(file, f"{shown(name)} is so already", "nothing was changed")
    return [change]


def taken(kept: Kept, amounts: Mapping[str, float], file: str) -> list[Change]:
    """Return what takes several amounts, in the box's own units."""
    changes = []
    for item, amount in sorted(amounts.items()):
        name = known(kept.text, item, file)
        stock = _stock(kept, name, file)
        changes.append(_amount_changed(name, stock, minus(stock, amount)))
    return changes


def undone(kept: Kept, number: int | None, file: str) -> tuple[Entry, list[Change]]:
    """Return the entry that is to be taken back, and the changes that take it back.

    Raises
    ------
    InputError
        When there is none, or it was taken back already.
    ConflictError
        When an amount has changed since, be it by less than its cell tells.
    """
    entry = to_undo(kept.entries, number, file)
    changes = [change.inverse for change in reversed(entry.changes)]
    for change in changes:
        before = change.before or {}
        is_told = kept.text.has(change.item) and kept.text.row(change.item)
        if change.exact is None or not is_told or is_told.get("amount") != before.get("amount"):
            continue
        if kept.exact.get(plain(change.item)) != Decimal(change.exact[0]):
            problem = f"the amount of {shown(change.item)} has changed since entry {entry.number}"
            remedy = "take back what came after it first: see 'flykin box history'"
            raise ConflictError([Fault(Origin(file), problem, remedy)])
    return entry, changes


def _stock(kept: Kept, name: str, file: str) -> Stock:
    """Return what there is of an item: exactly, if the journal tells how its cell came about."""
    cell = kept.text.row(name).get("amount", "")
    if not cell:
        remedy = "count it first: flykin box correct NAME --amount '25 feathers'"
        raise _wrong(file, f"{shown(name)} has no amount to take from", remedy, "amount")
    return _sum(lambda: stock_of(cell, kept.exact.get(plain(name))), file)


def _amount_changed(name: str, before: Stock | None, after: Stock) -> Change:
    cell, number = (before.cell, before.exact) if before else ("", Decimal(0))
    exact = f"{number:f}", f"{after.exact:f}"
    return Change(name, {"amount": cell}, {"amount": after.cell}, exact)


def _cells_changed(name: str, row: Mapping[str, str], after: Mapping[str, str]) -> Change:
    was = {column: row.get(column.lower(), "") for column in after}
    differ = {column: cell for column, cell in after.items() if was[column] != cell}
    return Change(name, {column: was[column] for column in differ}, differ)


def to_undo(entries: Sequence[Entry], number: int | None, file: str) -> Entry:
    """Return the entry that is to be taken back: the last that stands, or one by its number.

    Raises
    ------
    InputError
        When there is none, or it was taken back already.
    """
    done = {entry.undoes: entry.number for entry in entries if entry.undoes is not None}
    if number is None:
        # What an undo took back and another undo brought again stands.
        standing = [
            entry
            for entry in entries
            if entry.changes and entry.what != UNDO and not _is_undone(entry.number, done)
        ]
        if standing:
            return standing[-1]
        raise _wrong(file, "there is nothing to take back", "see 'flykin box history'")
    entry = next((one for one in entries if one.number == number), None)
    if entry is None:
        last = f"the last is entry {entries[-1].number}: " if entries else ""
        raise _wrong(file, f"there is no entry {number}", f"{last}see 'flykin box history'")
    if entry.what == BEGUN or not entry.changes:
        raise _wrong(file, f"entry {number} changed nothing", "see 'flykin box history'")
    if _is_undone(number, done):
        by = done[number]
        remedy = f"'flykin box undo {by}' brings it again"
        raise _wrong(file, f"entry {number} was taken back by entry {by}", remedy)
    return entry


def _is_undone(number: int, done: Mapping[int, int]) -> bool:
    by = done.get(number)
    return by is not None and not _is_undone(by, done)


def _sum(work: Callable[[], Stock], file: str) -> Stock:
    try:
        return work()
    except AmountError as problem:
        raise _wrong(file, str(problem), problem.remedy, "amount") from None


def _wrong(file: str, problem: str, remedy: str = "", field: str = "") -> InputError:
    return InputError([Fault(Origin(file, 0, field), problem, remedy)])
