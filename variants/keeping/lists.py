"""Someone's list of stuff as rows of a box: read, understood as far as it goes, nothing written.

A spreadsheet comes in; out come its columns with what each is taken for, the rows as a box would
hold them, what was guessed at, and what was not understood. Columns that a box does not know are
kept under their own names.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from variants.keeping.cells import amount_cell, measure_cell, price_cell, sizes_cell
from variants.keeping.columns import FROM, PARTED, TO, UNIT, Header, header_of
from variants.keeping.portions import SoldAs
from variants.keeping.rows import checked_item
from variants.keeping.stuffs import stuff_named
from variants.model import Item, Material, Origin, Trade, plain
from variants.reading import Fault, InputError
from variants.reading.files import shown_name
from variants.reading.plain.glossary import Glossary
from variants.reading.sheets import read_sheet, unguarded

_COMMENT = "#"
_MEASURES = ("length", "thickness", "gape", "shank")


@dataclass(slots=True)
class ListRow:
    """One row of a list as a box would hold it.

    Attributes
    ----------
    line : int
    values : dict of column to cell
    doubts : list of str
        What was guessed at.
    item : Item or None
        What it is; None where it was not understood.
    faults : tuple of Fault
        Why not.
    """

    line: int
    values: dict[str, str]
    doubts: list[str] = field(default_factory=list)
    item: Item | None = None
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class StuffList:
    """A list of stuff, understood as far as it goes."""

    name: str
    header: Header
    rows: tuple[ListRow, ...]

    @property
    def faults(self) -> list[Fault]:
        """All that was not understood, in the order of the file."""
        return [fault for row in self.rows for fault in row.faults]


class ListReader:
    """Reads lists.

    Parameters
    ----------
    trade : Trade
    glossary : Glossary
    words : mapping
        Of columns, from `read_column_words`.
    sold_as : sequence of SoldAs
    """

    def __init__(
        self,
        trade: Trade,
        glossary: Glossary,
        words: Mapping[str, str],
        sold_as: Sequence[SoldAs],
    ) -> None:
        self.trade = trade
        self.glossary = glossary
        self.words = words
        self.sold_as = sold_as

    def read(
        self,
        path: str | Path,
        *,
        told: Mapping[str, str] | None = None,
        fill: Iterable[str] = (),
        sheet: str = "",
    ) -> StuffList:
        """Read a list.

        Parameters
        ----------
        path : path
            CSV or XLSX; ``-`` is standard input.
        told : mapping of header to column
            What the user said of its columns; an empty column leaves one out.
        fill : iterable of str
            Columns of a box whose empty cells take the value above, as merged cells leave them.
        sheet : str
            Of a workbook.

        Raises
        ------
        InputError
            When it can't be read or has no header; not for single rows.
        """
        name = shown_name(path)
        rows = _rows(read_sheet(path, sheet), name)
        header = header_of(rows, self.words, told or {}, name)
        found: list[ListRow] = []
        above: dict[str, str] = {}
        names: set[str] = set()
        for line, cells in rows:
            if line < header.line + header.lines:
                continue
            values = _by_target(cells, header)
            for target in fill:
                values[target] = values.get(target) or above.get(target, "")
            above = values
            if any(values.values()):
                found.append(self._row(line, values, header, name, names))
        return StuffList(name, header, tuple(found))

    def _row(
        self, line: int, cells: dict[str, str], header: Header, name: str, names: set[str]
    ) -> ListRow:
        row = ListRow(line, {})
        units = {column.target: column.unit for column in header.columns}
        material = self._stuff(cells, row)
        for target, cell in _joined(cells).items():
            unit = units.get(target) or units.get(f"{target}{FROM}", "")
            row.values[target] = self._cell(target, cell, unit, cells, material, row)
        if not row.values.get("item"):
            row.values["item"] = _name_of(row.values, names)
            row.doubts.append(f"named “{row.values['item']}”")
        names.add(plain(row.values["item"]))
        row.values = {target: cell for target, cell in row.values.items() if cell}
        try:
            row.item = checked_item(row.values, self.trade, name)
        except InputError as problem:
            row.faults = tuple(
                Fault(
                    Origin(name, line, fault.origin.field), fault.problem, fault.remedy, fault.near
                )
                for fault in problem.faults
            )
        return row

    def _stuff(self, cells: dict[str, str], row: ListRow) -> Material | None:
        """Settle the material and the colour, by the words of the item where no column says."""
        told = cells.get("material") or cells.get("item", "")
        material = self.trade.material_names.get(plain(told))
        if material is not None:
            cells["material"] = cells.get("material") or material.name
        else:
            stuff = stuff_named(told, self.glossary)
            # A word that nothing is known by may change what the others mean.
            material = None if stuff.unknown else stuff.material
            if material is not None:
                cells["material"] = material.name
                words = material.name
                if stuff.colour is not None and not cells.get("colour"):
                    cells["colour"] = stuff.colour.name
                    words = f"{words}, {stuff.colour.name}"
                row.doubts.append(f"“{told}” is taken for {words}")
        colour = cells.get("colour", "")
        if colour and not self._is_colour(colour):
            stuff = stuff_named(colour, self.glossary)
            named = None if stuff.unknown else stuff.colour
            if named is not None:
                cells["colour"] = named.name
                row.doubts.append(f"“{colour}” is taken for {named.name}")
        return material

    def _is_colour(self, text: str) -> bool:
        return plain(text) in self.trade.colour_names or text.startswith("#") or "lab" in text

    def _cell(
        self,
        target: str,
        cell: str,
        unit: str,
        cells: Mapping[str, str],
        material: Material | None,
        row: ListRow,
    ) -> str:
        told, doubt = cell, ""
        if target == "sizes":
            told, doubt = sizes_cell(cell) if cell else ("", "")
        elif target in _MEASURES:
            told = measure_cell(cell, unit)
        elif target in ("amount", "price_for"):
            unit = (cells.get(UNIT, "") if target == "amount" else "") or unit
            told, doubt = amount_cell(cell, unit, material, self.sold_as)
        elif target == "price":
            told = price_cell(cell)
        if doubt:
            row.doubts.append(f"{target} {told}: {doubt}")
        return told


def _rows(text: str, name: str) -> list[tuple[int, list[str]]]:
    """Return the rows that are neither empty nor comments, with their lines."""
    reader = csv.reader(io.StringIO(text, newline=""))
    found: list[tuple[int, list[str]]] = []
    last = 0
    try:
        for cells in reader:
            line, last = last + 1, reader.line_num
            told = [unguarded(" ".join(cell.split())) for cell in cells]
            is_comment = told and told[0].startswith(_COMMENT) and not any(told[1:])
            if any(told) and not is_comment:
                found.append((line, told))
    except csv.Error as problem:
        fault = Fault(Origin(name, last + 1), f"is no CSV: {problem}", "save it again as CSV")
        raise InputError([fault]) from None
    return found


def _by_target(cells: Sequence[str], header: Header) -> dict[str, str]:
    return {
        column.target: cells[column.place] if column.place < len(cells) else ""
        for column in header.columns
        if column.target
    }


def _joined(cells: Mapping[str, str]) -> dict[str, str]:
    """Return cells with the two ends of a range made one, and without the unit."""
    joined = {
        target: cell
        for target, cell in cells.items()
        if target != UNIT and not target.endswith((FROM, TO))
    }
    for name in PARTED:
        ends = [cell for end in (FROM, TO) if (cell := cells.get(f"{name}{end}", ""))]
        if ends and not joined.get(name):
            joined[name] = "-".join(dict.fromkeys(ends))
    for target, cell in cells.items():
        # A column of the owner's own may end so too.
        if target.endswith((FROM, TO)) and target.rsplit(" ", 1)[0] not in PARTED:
            joined[target] = cell
    return joined


def _name_of(values: Mapping[str, str], names: set[str]) -> str:
    """Return a name for a thing that its owner gave none: what it is, and a number if need be."""
    material, colour = values.get("material", ""), values.get("colour", "")
    words = material if colour.lower() in material.lower() else f"{material} {colour}"
    if values.get("sizes"):
        words = f"{words} {values['sizes']}"
    base = " ".join(words.split()) or "thing"
    number, name = 2, base
    while plain(name) in names:
        name, number = f"{base} {number}", number + 1
    return name
