"""One row of a box by itself: whether it can be read, told without a line of any file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from variants.model import Item, Origin, Trade
from variants.reading import COLUMNS, Fault, InputError, box_of
from variants.reading.sheets import comma_text, guarded


def checked_item(values: Mapping[str, str], trade: Trade, where: str = "the item") -> Item:
    """Return the item that a row holds.

    Parameters
    ----------
    values : mapping of column to cell
    trade : Trade
    where : str
        What the row is called in messages.

    Raises
    ------
    InputError
        With everything that is wrong with it, by column.
    """
    lacking = [name for name in ("item", "material") if not values.get(name)]
    if lacking:
        faults = [
            Fault(Origin(where, 0, name), f"the {name} is missing", f"state the {name}")
            for name in lacking
        ]
        raise InputError(faults)
    header = list(dict.fromkeys([*COLUMNS, *values]))
    cells = [guarded(values.get(name, "")) for name in header]
    try:
        (item,) = box_of(comma_text([header, cells]), where, trade).items
    except InputError as problem:
        raise InputError(
            [
                replace(fault, origin=Origin(where, 0, fault.origin.field))
                for fault in problem.faults
            ]
        ) from None
    return replace(item, origin=Origin(where))
