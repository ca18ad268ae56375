"""Someone's list as it would go into a box: columns, guesses, what is not understood."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from variants.box.list_columns import ListColumn
from variants.box.list_import import ImportedList, ListRow
from variants.explain.wording import pluralize
from variants.model import Box, Item, plain
from variants.text import printable
from variants.views.columns import WIDTH, columns, shortened, wrap

_MOST_DOUBTS, _MOST_FAULTS = 12, 20
_THEIRS, _OURS = 24, 16
_HOW = {
    "same": "",
    "word": "",
    "like": "by likeness: see that it is right",
    "told": "as you said",
    "own": "kept as a column of your own",
}


def import_lines(
    found: ImportedList,
    box: Box | None,
    name: str,
    alike: Mapping[int, Sequence[Item]] | None = None,
) -> list[str]:
    """Return a preview of what a list would bring into a box.

    Parameters
    ----------
    found : ImportedList
    box : Box or None
        As it stands; None where it would be begun.
    name : str
        Of the box.
    alike : mapping of line to items
        What the box holds that is the same by another name.
    """
    header = found.header
    place = f"line {header.line}"
    if header.lines > 1:
        place = f"lines {header.line} and {header.line + header.lines - 1}"
    lines = [f"{printable(found.name)}, header in {place}", ""]
    lines.append(f" {'Their column':{_THEIRS}}  {'is taken for':{_OURS}}  such as")
    for column in header.columns:
        lines += _column_lines(column, found.rows)
    return [*lines, "", *_row_lines(found, box, name), *_alike_lines(alike or {})]


def _alike_lines(alike: Mapping[int, Sequence[Item]]) -> list[str]:
    """Return which rows may be in the box already."""
    told = {line: items for line, items in alike.items() if items}
    lines = ["", "In the box by another name, it seems"] if told else []
    for line, items in list(told.items())[:_MOST_DOUBTS]:
        names = "; ".join(f"“{printable(item.id)}”" for item in items)
        lines += wrap(f"line {line}: {names}", initial_indent="  ", subsequent_indent="    ")
    if len(told) > _MOST_DOUBTS:
        lines.append(f"  and {len(told) - _MOST_DOUBTS} more")
    return lines


def _column_lines(column: ListColumn, rows: tuple[ListRow, ...]) -> list[str]:
    theirs = shortened(printable(column.header), _THEIRS)
    ours = shortened(printable(column.target), _OURS) if column.target else "left out"
    how = "" if not column.target else _HOW[column.how]
    target = column.target.rsplit(" ", 1)[0] if column.how != "own" else column.target
    value = next((row.values[target] for row in rows if row.values.get(target)), "")
    such = shortened(printable(value), WIDTH - _THEIRS - _OURS - 6)
    pad = " " * (_THEIRS - columns(theirs))
    told = [f" {theirs}{pad}  {ours:{_OURS}}  {such}".rstrip()]
    if how:
        told.append(f" {'':{_THEIRS}}  {'':{_OURS}}  ({how})")
    return told


def _row_lines(found: ImportedList, box: Box | None, name: str) -> list[str]:
    good = [row for row in found.rows if row.item is not None]
    there = {plain(item.id) for item in box.items} if box else set()
    known = [row for row in good if plain(row.values["item"]) in there]
    told = f"{pluralize(len(found.rows), 'row')}, {len(good)} understood"
    if known:
        told += f", {len(known)} of them in the box by that name"
    lines = wrap(f"{told}; for {printable(name)}{'' if box else ', which is begun'}.")
    doubts = [(row.line, doubt) for row in found.rows for doubt in row.doubts]
    if doubts:
        lines += ["", "Guessed at"]
        for doubt, told in _by_doubt(doubts).items():
            lines += wrap(f"{told}: {printable(doubt)}", initial_indent="  ",
                          subsequent_indent="    ")  # fmt: skip
    if found.faults:
        lines += ["", "Not understood"]
        for fault in found.faults[:_MOST_FAULTS]:
            lines += [f"  {line}" for line in str(fault).splitlines()]
        if len(found.faults) > _MOST_FAULTS:
            lines.append(f"  and {len(found.faults) - _MOST_FAULTS} more")
    return lines


def _by_doubt(doubts: Sequence[tuple[int, str]]) -> dict[str, str]:
    """Return every guess with the lines it was made in: none goes into a box unseen."""
    lines: dict[str, list[str]] = {}
    for line, doubt in doubts:
        lines.setdefault(doubt, []).append(str(line))
    return {
        doubt: f"{'line' if len(told) == 1 else 'lines'} {', '.join(told)}"
        for doubt, told in lines.items()
    }
