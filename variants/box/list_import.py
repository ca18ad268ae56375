"""The import of someone's list as rows of a box; nothing is written.

A spreadsheet comes in; out come its columns with what each is taken for, the rows as a box would
hold them, what was guessed at, and what was not understood. Columns that a box does not know are
kept under their own names.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from variants.box.item_names import make_name, make_names_unique
from variants.box.list_cells import (
    normalize_amount,
    normalize_measure,
    normalize_price,
    normalize_sizes,
)
from variants.box.list_columns import FROM, PARTED, TO, UNIT, ListHeader, find_header
from variants.box.material_matching import MaterialMatch, find_kind, match_material, shares_word
from variants.box.row import read_item
from variants.box.sold_as import SoldAs
from variants.model import Item, Material, Origin, Trade, plain
from variants.reading import Fault, InputError, shown_name
from variants.reading.sheets import read_sheet, unguard_formula
from variants.reading.words import Glossary
from variants.text import nearest, shown
from variants.units import unit_names

_COMMENT = "#"
#: A number in a hook's name that is no part of another measure.
_HOOK_SIZE = re.compile(r"(?<![\w./-])#?([0-9]{1,2})(?![\w./-])")
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
    open : dict of column to str
        What its words leave open.
    near : tuple of str
        Materials that they may mean.
    taken : dict of words to list of str
        What they are taken for.
    """

    line: int
    values: dict[str, str]
    doubts: list[str] = field(default_factory=list)
    item: Item | None = None
    faults: tuple[Fault, ...] = ()
    open: dict[str, str] = field(default_factory=dict)
    near: tuple[str, ...] = ()
    taken: dict[str, list[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ImportedList:
    """A list as it was understood."""

    name: str
    header: ListHeader
    rows: tuple[ListRow, ...]

    @property
    def faults(self) -> list[Fault]:
        """All that was not understood, in the order of the file."""
        return [fault for row in self.rows for fault in row.faults]


class ListReader:
    """Reads lists of materials and tools.

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
    ) -> ImportedList:
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
        header = self._with_units(find_header(rows, self.words, told or {}, name), rows)
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
        _make_unique(found)
        return ImportedList(name, header, tuple(found))

    def _with_units(self, header: ListHeader, rows: Sequence[tuple[int, list[str]]]) -> ListHeader:
        """Return a header with the column that holds nothing but units taken for that."""
        if any(column.target == UNIT for column in header.columns):
            return header
        words = {*unit_names(), *(name for one in self.sold_as for name in one.names)}
        for place, column in enumerate(header.columns):
            told = {
                plain(cells[column.place])
                for line, cells in rows
                if line >= header.line + header.lines and column.place < len(cells)
            } - {""}
            if column.how == "own" and told and told <= words:
                unit = replace(column, target=UNIT, how="like")
                columns = (*header.columns[:place], unit, *header.columns[place + 1 :])
                return replace(header, columns=columns)
        return header

    def _row(
        self, line: int, cells: dict[str, str], header: ListHeader, name: str, names: set[str]
    ) -> ListRow:
        row = ListRow(line, {})
        units = {column.target: column.unit for column in header.columns}
        material = self._complete(cells, row)
        row.doubts += [
            f"“{said}” is taken for {', '.join(what)}" for said, what in row.taken.items()
        ]
        for target, cell in _join_ranges(cells).items():
            unit = units.get(target) or units.get(f"{target}{FROM}", "")
            row.values[target] = self._cell(target, cell, unit, cells, material, row)
        if not row.values.get("item"):
            row.values["item"] = make_name(row.values, names)
            row.doubts.append(f"named “{row.values['item']}”")
        names.add(plain(row.values["item"]))
        row.values = {target: cell for target, cell in row.values.items() if cell}
        try:
            row.item = read_item(row.values, self.trade, name)
        except InputError as problem:
            row.faults = tuple(
                Fault(
                    Origin(name, line, fault.origin.field), fault.problem, fault.remedy, fault.near
                )
                for fault in problem.faults
                if not (fault.origin.field == "material" and "material" in row.open)
            )
        row.faults = (*(self._open_fault(row, field, name) for field in row.open), *row.faults)
        row.item = None if row.faults else row.item
        return row

    def _open_fault(self, row: ListRow, field: str, name: str) -> Fault:
        near = row.near if field == "material" else ()
        remedy = f"say it in the column {field}"
        return Fault(Origin(name, row.line, field), row.open[field], remedy, near)

    def _complete(self, cells: dict[str, str], row: ListRow) -> Material | None:
        """Fill in the material and the colour, by the words of the item where no column says."""
        by_item = match_material(cells.get("item", ""), self.glossary)
        material = self._material(cells, by_item, row)
        if material is not None and not self._is_named(cells.get("material", ""), material):
            cells["material"] = material.name
        if cells.get("material"):
            by_item = match_material(cells.get("item", ""), self.glossary, material)
        self._colour(cells, by_item, material, row)
        numbers = _HOOK_SIZE.findall(cells.get("item", ""))
        is_sized = any(cells.get(f"sizes{end}") for end in ("", FROM, TO))
        is_hook = material is not None and "hook" in material.functions
        if is_hook and not is_sized and len(numbers) == 1:
            cells["sizes"] = numbers[0]
            row.doubts.append(f"size {numbers[0]} by its name")
        return material

    def _is_named(self, text: str, material: Material) -> bool:
        return self.trade.material_names.get(plain(text)) is material

    def _material(
        self, cells: dict[str, str], by_item: MaterialMatch, row: ListRow
    ) -> Material | None:
        told, item = cells.get("material", ""), cells.get("item", "")
        words = told or item
        kind = find_kind(words, self.trade)
        if kind:
            # The head of a drawer: what lies in it, the item has to tell.
            named = by_item.material if by_item.is_unique and told else None
            if named in kind:
                row.taken[item] = [named.name]
                return named
            row.near = tuple(one.name for one in kind[:3])
            row.open["material"] = (
                f"{shown(words)} names {len(kind)} stuffs: which is {shown(item)}?"
            )
            return None
        named = self.trade.material_names.get(plain(words))
        if named is None:
            match = by_item if not told else match_material(told, self.glossary)
            if not match.is_unique:
                # What is told and not known at all, the reader of boxes refuses with what is near.
                if words and (match.open or not told):
                    why = f": {'; '.join(match.open)}" if match.open else ""
                    row.open["material"] = f"{shown(words)} does not tell which material it is{why}"
                    choices = tuple(one.name for one in match.choices[:3])
                    row.near = choices or nearest(plain(words), self.trade.material_names)
                return None
            named = match.material
            if told and match.open_colour and not cells.get("colour"):
                row.open["colour"] = "; ".join(match.open_colour)
            elif told and match.colour is not None and not cells.get("colour"):
                cells["colour"] = match.colour.name
            row.taken[words] = [named.name] if named else []
        elif " " not in words.strip() and words not in (named.id, named.name):
            # One word heads a whole drawer: what it was taken for is told.
            row.taken[words] = [named.name]
        other = by_item.material if by_item.is_unique else None
        if told and named and other and other.kind != named.kind and not shares_word(item, named):
            says = f"{shown(item)} is {other.name} by its name, and {named.name} by its material"
            row.open["material"] = says
            return None
        return named

    def _colour(
        self, cells: dict[str, str], by_item: MaterialMatch, material: Material | None, row: ListRow
    ) -> None:
        colour = cells.get("colour", "")
        if colour:
            if not self._is_colour(colour):
                match = match_material(colour, self.glossary)
                named = None if match.unknown or match.open_colour else match.colour
                if named is not None:
                    cells["colour"] = named.name
                    row.doubts.append(f"“{colour}” is taken for {named.name}")
            return
        if by_item.colour is not None:
            cells["colour"] = by_item.colour.name
            row.taken.setdefault(cells["item"], []).append(by_item.colour.name)
        elif by_item.open_colour:
            row.open["colour"] = "; ".join(by_item.open_colour)
        elif material is not None and material.natural_colour and "any" in material.colours[2:]:
            # Had in several colours of its own, and dyed.
            natural = self.trade.colours[material.natural_colour].name
            row.doubts.append(f"no colour is told: taken as {natural}")

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
            told, doubt = normalize_sizes(cell) if cell else ("", "")
        elif target in _MEASURES:
            told = normalize_measure(cell, unit)
        elif target in ("amount", "price_for"):
            unit = (cells.get(UNIT, "") if target == "amount" else "") or unit
            told, doubt = normalize_amount(cell, unit, material, self.sold_as)
        elif target == "price":
            told = normalize_price(cell)
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
            told = [unguard_formula(" ".join(cell.split())) for cell in cells]
            is_comment = told and told[0].startswith(_COMMENT) and not any(told[1:])
            if any(told) and not is_comment:
                found.append((line, told))
    except csv.Error as problem:
        fault = Fault(Origin(name, last + 1), f"is no CSV: {problem}", "save it again as CSV")
        raise InputError([fault]) from None
    return found


def _by_target(cells: Sequence[str], header: ListHeader) -> dict[str, str]:
    return {
        column.target: cells[column.place] if column.place < len(cells) else ""
        for column in header.columns
        if column.target
    }


def _join_ranges(cells: Mapping[str, str]) -> dict[str, str]:
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


def _make_unique(rows: Sequence[ListRow]) -> None:
    """Give rows with one name different names, and note it as a doubt."""
    names = make_names_unique([row.values for row in rows])
    alike = Counter(plain(row.values["item"]) for row in rows)
    for name, row in zip(names, rows, strict=True):
        was = row.values["item"]
        if name != was:
            row.values["item"] = name
            row.item = replace(row.item, id=name) if row.item is not None else None
            row.doubts.append(f"named “{name}”: {alike[plain(was)]} rows are called “{was}”")
