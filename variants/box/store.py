"""The store of a box: its operations, each one transaction, and its history."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from variants.box import operations, transaction
from variants.box.atomic_replace import ConcurrentEditError
from variants.box.box_text import BoxText
from variants.box.changes import ConflictError, ItemChange, apply_changes
from variants.box.journal import BY_HAND, read_journal
from variants.box.journal_entry import JournalEntry
from variants.box.operations import UNDO, Plan
from variants.box.paths import real_path
from variants.box.row import normalize_column, read_item
from variants.box.transaction import BoxState
from variants.model import Box, Origin, Trade
from variants.reading import Fault, InputError, parse_box
from variants.reading.sheets import convert_to_commas
from variants.text import shown

ADD, USE, BUY, CORRECT = "add", "use", "buy", "correct"
IMPORT, BATCH = "import", "batch"
#: A transaction begins anew so often when another program saves the box meanwhile.
_MOST_TRIES = 10
_WORKBOOK = b"PK\x03\x04"


@dataclass(frozen=True, slots=True)
class VersionedBox:
    """A box as it was read, and its version, for optimistic locking."""

    box: Box
    version: str


class BoxStore:
    """Reads and changes one box file.

    Every operation is a transaction under a lock: it is written to the box and to the journal, or
    nothing is. Each takes a ``note`` for the journal, where it makes sense, and a ``version``: a
    caller that has shown the box to someone hands back the version it showed, and when the box has
    changed since, gets a `ConflictError`. Each returns its entry of the journal.

    Parameters
    ----------
    path : path
        A CSV file; its columns, comments, order, encoding and line ends stay as they are. A link
        is followed.
    trade : Trade
        What its names refer to: no operation leaves a box that can't be read.

    Raises
    ------
    InputError
        By every method, when the box or its journal can't be read or written, and when a value is
        wrong; with file, column and remedy.

    Examples
    --------
    >>> import tempfile, variants
    >>> folder = tempfile.TemporaryDirectory()
    >>> store = BoxStore(f"{folder.name}/box.csv", variants.load_rules().trade)
    >>> cape = {"item": "ginger cape", "material": "cock neck", "colour": "ginger"}
    >>> entry = store.add({**cape, "amount": "40 feathers"})
    >>> entry = store.use("ginger cape", "2 feathers", note="an evening at the vice")
    >>> store.row("ginger cape")["amount"]
    '38 feathers'
    >>> entry = store.undo()
    >>> [(one.number, one.what) for one in store.history()]
    [(1, 'add'), (2, 'use'), (3, 'undo')]
    >>> folder.cleanup()
    """

    def __init__(self, path: str | Path, trade: Trade) -> None:
        self.path = real_path(path)
        self.name = str(path)
        self.trade = trade

    def read(self) -> VersionedBox:
        """Return the box with its version, without writing."""
        state = self._peek()
        return VersionedBox(self._parse(state.text), state.version)

    def row(self, item: str) -> dict[str, str]:
        """Return the cells of an item that are not empty, by column, the owner's own too.

        Raises
        ------
        InputError
            When there is no such item, with the nearest names.
        """
        text = self._peek().text
        return text.row(operations.find_name(text, item, self.name))

    def history(self) -> list[JournalEntry]:
        """Return the entries of the journal, oldest first; none where nothing was changed yet."""
        return read_journal(self.path)

    def find_hand_edit(self) -> tuple[ItemChange, ...] | None:
        """Return what was edited by hand since the last entry; None without an edit."""
        return transaction.find_hand_edit(self._peek())

    def record_hand_edit(self) -> JournalEntry | None:
        """Write an edit by hand into the journal and return its entry; None without an edit."""
        with transaction.lock_box(self.path):
            last = transaction.recover(self.path).entries[-1]
        return last if last.what == BY_HAND else None

    def add(
        self, values: Mapping[str, str], *, note: str = "", version: str | None = None
    ) -> JournalEntry:
        """Write a new item into the box; a missing box is begun.

        Parameters
        ----------
        values : mapping of column to cell
            ``item`` and ``material`` at least, as the file would hold them.
        note, version : str, optional

        Raises
        ------
        InputError
            When a value is wrong or there is such an item, with the column.
        """
        row = {name: cell for name, cell in self._cells(values).items() if cell}
        read_item(row, self.trade)
        plan = partial(operations.plan_add, row=row)
        return self._transact(plan, ADD, note, version, may_begin=True)

    def import_rows(
        self,
        rows: Sequence[Mapping[str, str]],
        *,
        may_correct: bool = False,
        note: str = "",
        version: str | None = None,
    ) -> JournalEntry:
        """Write the rows of a list into the box, all or none; a missing box is begun.

        Parameters
        ----------
        rows : sequence of mapping of column to cell
            Each with ``item`` and ``material``.
        may_correct : bool
            Whether a row whose item is in the box corrects that one; a cell that is empty in the
            row is left as it is.
        note, version : str, optional

        Raises
        ------
        InputError
            When a row is wrong, nothing would change, or an item is in the box and may not be
            corrected.
        """
        plan = partial(operations.plan_import, rows=rows, may_correct=may_correct)
        return self._transact(plan, IMPORT, note, version, may_begin=True)

    def use(
        self, item: str, amount: str, *, note: str = "", version: str | None = None
    ) -> JournalEntry:
        """Take from an item: ``2 feathers``, ``1 pinch``, or ``all``.

        Raises
        ------
        InputError
            When there is no such item, less is left, or the unit is of another kind.
        """
        plan = partial(operations.plan_use, item=item, amount=amount)
        return self._transact(plan, USE, note, version)

    def buy(
        self,
        item: str,
        amount: str,
        *,
        price: str = "",
        note: str = "",
        version: str | None = None,
    ) -> JournalEntry:
        """Add an amount to an item that is in the box.

        Parameters
        ----------
        item, amount : str
        price : str
            What `amount` cost; it replaces the price noted before.
        note, version : str, optional

        Raises
        ------
        InputError
            When there is no such item, or the unit is of another kind.
        """
        plan = partial(operations.plan_buy, item=item, amount=amount, price=price)
        return self._transact(plan, BUY, note, version)

    def correct(
        self,
        item: str,
        values: Mapping[str, str],
        *,
        note: str = "",
        version: str | None = None,
    ) -> JournalEntry:
        """Set cells of an item.

        Parameters
        ----------
        item : str
        values : mapping of column to cell
            Any column, the owner's own too; ``item`` renames it, an empty text empties a cell.
        note, version : str, optional

        Raises
        ------
        InputError
            When there is no such item, a value is wrong, or nothing would change.
        """
        cells = self._cells(values)

        def plan(state: BoxState, file: str) -> Plan:
            made = operations.plan_correct(state, file, item, cells)
            row = state.text.row(made.changes[0].item)
            read_item(row | {name.lower(): cell for name, cell in cells.items()}, self.trade)
            return made

        return self._transact(plan, CORRECT, note, version)

    def take(
        self, amounts: Mapping[str, float], note: str, *, version: str | None = None
    ) -> JournalEntry:
        """Take several amounts off the box, all or none, for a batch.

        Parameters
        ----------
        amounts : mapping of item id to amount
            In the unit in which the box counts the item; no item goes below nothing.
        note, version : str, optional

        Raises
        ------
        InputError
            When an item is not in the box, or its amount is no number with a unit.
        """
        plan = partial(operations.plan_take, amounts=amounts)
        return self._transact(plan, BATCH, note, version)

    def undo(self, number: int | None = None, *, version: str | None = None) -> JournalEntry:
        """Undo an entry: the last that still stands, or one by its number.

        Raises
        ------
        InputError
            When there is nothing to undo, or it was undone already.
        ConflictError
            When what it changed has changed again since.
        """
        plan = partial(operations.plan_undo, number=number)
        return self._transact(plan, UNDO, "", version)

    def _transact(
        self,
        plan: Callable[[BoxState, str], Plan],
        what: str,
        note: str,
        version: str | None,
        may_begin: bool = False,
    ) -> JournalEntry:
        """Recover the box, plan the changes, and commit them; begin anew on a concurrent edit."""
        self._refuse_workbook()
        if not may_begin and not transaction.exists(self.path):
            raise transaction.missing_box_error(Path(self.name))
        with transaction.lock_box(self.path):
            for _ in range(_MOST_TRIES):
                state = transaction.recover(self.path, may_begin=may_begin)
                if version is not None and version != state.version:
                    problem = "the box has changed since it was read"
                    remedy = "read it again: the answer may be another one now"
                    raise ConflictError([Fault(Origin(self.name), problem, remedy)])
                changes, undoes = plan(state, self.name)
                after = apply_changes(state.text, changes, self.name)
                self._parse(after)
                with suppress(ConcurrentEditError):
                    done = transaction.commit(state, after, what, changes, note=note, undoes=undoes)
                    return done.entries[-1]
        problem = "is saved again and again by another program"
        raise transaction.box_error(Path(self.name), problem, "close it there, then try again")

    def _cells(self, values: Mapping[str, str]) -> dict[str, str]:
        """Return cells by column: Flykin's columns in lower case, the owner's as written."""
        cells: dict[str, str] = {}
        for name, cell in values.items():
            column = normalize_column(name.strip())
            if not column.isprintable() or not column:
                problem = f"{shown(name)} is no name of a column"
                raise InputError([Fault(Origin(self.name), problem, "write a word or two")])
            cells[column] = cell.strip()
        return cells

    def _peek(self) -> BoxState:
        self._refuse_workbook()
        return transaction.peek(self.path)

    def _refuse_workbook(self) -> None:
        try:
            with self.path.open("rb") as file:
                is_workbook = file.read(len(_WORKBOOK)) == _WORKBOOK
        except OSError:
            return
        if is_workbook:
            remedy = f"make a box of it: flykin box import {self.name} --box box.csv"
            problem = "is a workbook, and a box that is kept is CSV"
            raise InputError([Fault(Origin(self.name), problem, remedy)])

    def _parse(self, text: BoxText) -> Box:
        return parse_box(convert_to_commas(text.text), self.name, self.trade)
