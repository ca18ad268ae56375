"""The keeper of a box: what is added, used, bought, corrected and undone, and what was.

Every change is made whole or not at all, under a lock, and is in the journal to the last cell. A
caller that showed the box to someone first may hand back the version it showed: if the box is
another one by now, it gets a `ConflictError` and nothing is written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from variants.box import commits, decisions
from variants.box.changes import Change, ConflictError, applied
from variants.box.commits import Kept
from variants.box.decisions import UNDO
from variants.box.entries import Entry
from variants.box.journal import BY_HAND, read_journal
from variants.box.paths import real_path
from variants.box.replacing import EditedError
from variants.box.rows import box_column, checked_item
from variants.box.texts import BoxText
from variants.model import Box, Origin, Trade
from variants.reading import Fault, InputError, box_of, shown
from variants.reading.sheets import by_commas

ADD, USE, BUY, CORRECT = "add", "use", "buy", "correct"
IMPORT, BATCH = "import", "batch"
#: A command begins anew so often when the box is saved by others while it is at work.
_MOST_TRIES = 10
_WORKBOOK = b"PK\x03\x04"
Decide = Callable[[Kept], Sequence[Change]]


@dataclass(frozen=True, slots=True)
class Held:
    """A box as it was read, and the version to hand back with a change to it."""

    box: Box
    version: str


class Keeper:
    """The keeper of one box file.

    Parameters
    ----------
    path : path
        A CSV file; its columns, comments, order, letters and line ends stay as they are. A link
        is followed.
    trade : Trade
        What its names refer to: no change leaves a box that can't be read.

    Examples
    --------
    >>> import tempfile, variants
    >>> folder = tempfile.TemporaryDirectory()
    >>> keeper = Keeper(f"{folder.name}/box.csv", variants.load_rules().trade)
    >>> cape = {"item": "ginger cape", "material": "cock neck", "colour": "ginger"}
    >>> entry = keeper.add({**cape, "amount": "40 feathers"})
    >>> entry = keeper.use("ginger cape", "2 feathers", note="an evening at the vice")
    >>> keeper.row("ginger cape")["amount"]
    '38 feathers'
    >>> entry = keeper.undo()
    >>> [(one.number, one.what) for one in keeper.history()]
    [(1, 'add'), (2, 'use'), (3, 'undo')]
    >>> folder.cleanup()
    """

    def __init__(self, path: str | Path, trade: Trade) -> None:
        self.path = real_path(path)
        self.name = str(path)
        self.trade = trade

    # What is asked.

    def held(self) -> Held:
        """Return the box as it stands, with its version; nothing is written.

        Raises
        ------
        InputError
            With every fault of the box.
        """
        kept = self._peek()
        return Held(self._box(kept.text), kept.version)

    def row(self, item: str) -> dict[str, str]:
        """Return the cells of an item that are not empty, by column, the owner's own too.

        Raises
        ------
        InputError
            When there is no such item, with the nearest names.
        """
        text = self._peek().text
        return text.row(decisions.known(text, item, self.name))

    def history(self) -> list[Entry]:
        """Return the entries of the journal, oldest first; none where nothing was changed yet.

        Raises
        ------
        InputError
            When the journal was tampered with.
        """
        return read_journal(self.path)

    def by_hand(self) -> tuple[Change, ...] | None:
        """Return what was done to the box by hand since its last entry; None when nothing was.

        Raises
        ------
        InputError
            When the box can't be read or the journal was tampered with.
        """
        return commits.by_hand(self._peek())

    # What is done.

    def add(
        self, values: Mapping[str, str], *, note: str = "", version: str | None = None
    ) -> Entry:
        """Put a new item into the box; a box that is not there is begun.

        Parameters
        ----------
        values : mapping of column to cell
            ``item`` and ``material`` at least, as the file would hold them.
        note : str
            For the journal.
        version : str, optional
            Of the box that the caller has seen.

        Raises
        ------
        InputError
            When a value is wrong or there is such an item, with the column.
        ConflictError
            When the box has changed since `version`.
        """
        row = {name: cell for name, cell in self._cells(values).items() if cell}
        checked_item(row, self.trade)
        return self._change(
            lambda kept: decisions.added(kept.text, row, self.name),
            ADD,
            note=note,
            version=version,
            may_begin=True,
        )

    def bring_in(
        self,
        rows: Sequence[Mapping[str, str]],
        *,
        may_correct: bool = False,
        note: str = "",
        version: str | None = None,
    ) -> Entry:
        """Put the rows of a list into the box, all or none; a box that is not there is begun.

        Parameters
        ----------
        rows : sequence of mapping of column to cell
            Each with ``item`` and ``material``.
        may_correct : bool
            Whether a row whose item is in the box sets that one right; a cell that is empty in the
            row is left as it is.
        note : str
            For the journal.
        version : str, optional

        Raises
        ------
        InputError
            When a row is wrong, nothing would change, or an item is in the box and may not be
            corrected.
        ConflictError
            When the box has changed since `version`.
        """
        return self._change(
            lambda kept: decisions.brought_in(kept.text, rows, may_correct, self.name),
            IMPORT,
            note=note,
            version=version,
            may_begin=True,
        )

    def use(self, item: str, amount: str, *, note: str = "", version: str | None = None) -> Entry:
        """Take from an item: ``2 feathers``, ``1 pinch``, or ``all``.

        Raises
        ------
        InputError
            When there is no such item, less is left, or it is counted otherwise.
        ConflictError
            When the box has changed since `version`.
        """
        return self._change(
            lambda kept: decisions.used(kept, item, amount, self.name),
            USE,
            note=note,
            version=version,
        )

    def buy(
        self,
        item: str,
        amount: str,
        *,
        price: str = "",
        note: str = "",
        version: str | None = None,
    ) -> Entry:
        """Add what was bought of an item that is in the box, and what it cost.

        Parameters
        ----------
        item, amount : str
        price : str
            What `amount` cost; the price noted before gives way to it.
        note : str
        version : str, optional

        Raises
        ------
        InputError
            When there is no such item, or it is counted otherwise.
        ConflictError
            When the box has changed since `version`.
        """
        return self._change(
            lambda kept: decisions.bought(kept, item, amount, price, self.name),
            BUY,
            note=note,
            version=version,
        )

    def correct(
        self,
        item: str,
        values: Mapping[str, str],
        *,
        note: str = "",
        version: str | None = None,
    ) -> Entry:
        """Set cells of an item right; an empty text empties a cell.

        Parameters
        ----------
        item : str
        values : mapping of column to cell
            Any column, the owner's own too; ``item`` gives it another name.
        note : str
        version : str, optional

        Raises
        ------
        InputError
            When there is no such item, a value is wrong, or nothing would change.
        ConflictError
            When the box has changed since `version`.
        """
        told = self._cells(values)

        def decide(kept: Kept) -> list[Change]:
            changes = decisions.corrected(kept.text, item, told, self.name)
            said = {name.lower(): cell for name, cell in told.items()}
            checked_item({**kept.text.row(changes[0].item), **said}, self.trade)
            return changes

        return self._change(decide, CORRECT, note=note, version=version)

    def take(self, taken: Mapping[str, float], what: str, *, version: str | None = None) -> Entry:
        """Take several amounts off the box, all or none, for a batch.

        Parameters
        ----------
        taken : mapping of item id to amount
            In the unit in which the box counts the item; no item goes below nothing.
        what : str
            What for, for the journal.
        version : str, optional

        Raises
        ------
        InputError
            When an item is not in the box, or its amount is no number with a unit.
        ConflictError
            When the box has changed since `version`.
        """
        return self._change(
            lambda kept: decisions.taken(kept, taken, self.name),
            BATCH,
            note=what,
            version=version,
        )

    def undo(self, number: int | None = None, *, version: str | None = None) -> Entry:
        """Take a change back: the last that was not taken back yet, or one by its number.

        Raises
        ------
        InputError
            When there is nothing to take back, or it was taken back already.
        ConflictError
            When what it changed has changed again since, or the box since `version`.
        """
        undone: list[int] = []

        def decide(kept: Kept) -> list[Change]:
            entry, changes = decisions.undone(kept, number, self.name)
            undone.append(entry.number)
            return changes

        return self._change(decide, UNDO, version=version, undoes=undone)

    def take_up(self) -> Entry | None:
        """Write into the journal what was done to the box by hand; None when nothing was.

        Raises
        ------
        InputError
            When the box can't be read or the journal can't be written.
        """
        with commits.locked(self.path):
            kept = commits.settled(self.path)
        entries = kept.entries
        return entries[-1] if entries[-1].what == BY_HAND else None

    # How it is done.

    def _change(
        self,
        decide: Decide,
        what: str,
        *,
        note: str = "",
        version: str | None = None,
        may_begin: bool = False,
        undoes: list[int] | None = None,
    ) -> Entry:
        self._refuse_workbook()
        if not may_begin and not commits.is_there(self.path):
            raise commits.no_such_file(Path(self.name))
        with commits.locked(self.path):
            for _ in range(_MOST_TRIES):
                kept = commits.settled(self.path, may_begin=may_begin)
                if version is not None and version != kept.version:
                    raise self._has_changed()
                changes = tuple(decide(kept))
                after = applied(kept.text, changes, self.name)
                self._box(after)
                taken_back = undoes[-1] if undoes else None
                with suppress(EditedError):
                    done = commits.committed(
                        kept, after, what, changes, note=note, undoes=taken_back
                    )
                    return done.entries[-1]
        problem = "is saved again and again by another program"
        raise commits.refused(Path(self.name), problem, "close it there, then try again")

    def _has_changed(self) -> ConflictError:
        remedy = "read it again: the answer may be another one now"
        fault = Fault(Origin(self.name), "the box has changed since it was read", remedy)
        return ConflictError([fault])

    def _cells(self, values: Mapping[str, str]) -> dict[str, str]:
        """Return cells by the columns' names as a box spells them, the owner's as he does."""
        cells: dict[str, str] = {}
        for name, cell in values.items():
            column = box_column(name.strip())
            if not column.isprintable() or not column:
                fault = Fault(
                    Origin(self.name),
                    f"{shown(name)} is no name of a column",
                    "write a word or two",
                )
                raise InputError([fault])
            cells[column] = cell.strip()
        return cells

    def _peek(self) -> Kept:
        self._refuse_workbook()
        return commits.peek(self.path)

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

    def _box(self, text: BoxText) -> Box:
        return box_of(by_commas(text.text), self.name, self.trade)
