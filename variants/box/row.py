"""One row of a box by itself: read, with its faults located by column only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from variants.model import BlendPart, Colour, Item, Origin, Trade
from variants.reading import COLUMNS, Fault, Faults, Fields, InputError, parse_box, parse_colour
from variants.reading.recipes import parse_blend
from variants.reading.sheets import guard_formula, join_by_commas


def normalize_column(name: str) -> str:
    """Return the name of a column in lower case where it is ours; the owner's own as it is.

    >>> normalize_column("Colour"), normalize_column("My Ref")
    ('colour', 'My Ref')
    """
    return name.lower() if name.lower() in COLUMNS else name


def read_item(values: Mapping[str, str], trade: Trade, where: str = "the item") -> Item:
    """Read the item of a row.

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
    cells = [guard_formula(values.get(name, "")) for name in header]
    try:
        (item,) = parse_box(join_by_commas([header, cells]), where, trade).items
    except InputError as problem:
        raise InputError(
            [
                replace(fault, origin=Origin(where, 0, fault.origin.field))
                for fault in problem.faults
            ]
        ) from None
    return replace(item, origin=Origin(where))


def read_colour(text: str, trade: Trade, where: str) -> Colour:
    """Read the colour in a cell: of the tables, a hex value, or L*a*b* as measured.

    Raises
    ------
    InputError
        When it names none, with the nearest names.
    """
    faults = Faults()
    fields = Fields({"colour": text}, lambda _field: Origin(where), faults, cells=True)
    found = parse_colour(fields, trade)
    faults.stop_if_any()
    if found is None:
        raise InputError([Fault(Origin(where), "the colour is missing", "name a colour")])
    return found


def read_recipe(text: str, trade: Trade, where: str) -> tuple[BlendPart, ...]:
    """Read the recipe of a blend.

    Raises
    ------
    InputError
        When it is no blend.
    """
    faults = Faults()
    fields = Fields({"blend": text}, lambda field: Origin(where, 0, field), faults, cells=True)
    found = parse_blend(fields, "blend", trade)
    faults.stop_if_any()
    return found
