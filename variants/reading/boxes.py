"""Box files (CSV, as a spreadsheet saves them) to `Box`; one row is one thing owned.

Columns: item, material, colour, sizes, length, thickness, gape, shank, side, amount, place, note.
Only item and material must be there; columns of the owner's own are let be.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from variants.model import Box, Colour, Item, Origin, Trade
from variants.reading.dressings import parse_sizes
from variants.reading.faults import Faults, shown
from variants.reading.fields import Fields
from variants.reading.tables import Row, read_table
from variants.units import UnitError, millimetres

if TYPE_CHECKING:
    from pint import Quantity

COLUMNS = (
    "item",
    "material",
    "colour",
    "sizes",
    "length",
    "thickness",
    "gape",
    "shank",
    "side",
    "amount",
    "place",
    "note",
)
SIDES = ("left", "right", "pair")
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
_AMOUNTS = "write what is left with its unit: 12 hooks, 25 feathers, 3 m, 0.5 g, or 0 feathers"


def read_box(path: str | Path, trade: Trade) -> Box:
    """Read a box; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults = Faults()
    rows = read_table(
        path, COLUMNS, ("item", "material"), faults, tabs=False, extra_columns=True
    )
    faults.stop_if_any()
    items: dict[str, Item] = {}
    for row in rows:
        item = _item(row, trade, faults)
        if item is None:
            continue
        if item.id in items:
            first = items[item.id].origin.line
            faults.add(
                Origin(row.file, row.line, "item"),
                f"{shown(item.id)} is already the name of the item in line {first}",
                "give each item a name of its own",
            )
        items[item.id] = item
    faults.stop_if_any()
    return Box(tuple(items.values()), Origin(str(path)))


def _item(row: Row, trade: Trade, faults: Faults) -> Item | None:
    fields = row.fields(faults)
    name = fields.text("item", None)
    if len(name) > 200:
        fields.wrong("item", f"the name is {len(name)} characters long", "keep it under 200")
    if not fields.text("material"):
        fields.wrong("material", "the material is missing", "name a material of the tables")
    material = fields.entry("material", trade.material_names, "material")
    colour = _colour(fields, trade)
    thickness_mm, denier = _thickness(fields)
    if material is None or not name:
        return None
    if colour is None and not fields.has("colour") and material.natural_colour:
        colour = trade.colours.get(material.natural_colour)
    return Item(
        id=name,
        material=material,
        colour=colour,
        sizes=_sizes(fields),
        length_mm=fields.length_range_mm("length"),
        thickness_mm=thickness_mm,
        denier=denier,
        gape_mm=_length(fields, "gape"),
        shank_mm=_length(fields, "shank"),
        side=fields.choice("side", SIDES),
        amount=_amount(fields),
        place=fields.text("place"),
        note=fields.text("note"),
        origin=fields.origin(),
    )


def _colour(fields: Fields, trade: Trade) -> Colour | None:
    text = fields.text("colour")
    if _HEX.fullmatch(text):
        return Colour(id=text.lower(), name=text.lower(), hexes=(text.upper(),), source="measured")
    return fields.entry("colour", trade.colour_names, "colour")


def _sizes(fields: Fields) -> tuple[int, ...] | None:
    text = fields.text("sizes")
    if not text:
        return None
    try:
        return parse_sizes(text)
    except ValueError as problem:
        fields.wrong("sizes", str(problem), "write 14 or 12-16")
        return None


def _thickness(fields: Fields) -> tuple[float | None, float | None]:
    quantity = fields.quantity("thickness")
    if quantity is None:
        return None, None
    if quantity.check("[mass] / [length]"):
        return None, float(quantity.to("denier").magnitude)
    return _millimetres(fields, "thickness", quantity), None


def _length(fields: Fields, field: str) -> float | None:
    quantity = fields.quantity(field)
    return None if quantity is None else _millimetres(fields, field, quantity)


def _millimetres(fields: Fields, field: str, quantity: Quantity) -> float | None:
    try:
        length = millimetres(quantity)
    except UnitError as problem:
        fields.wrong(field, str(problem), 'write "0.1 mm", or "70 denier" for thread')
        return None
    if not 0 < length <= 500:
        fields.wrong(field, f"{length:g} mm is out of range", "write a length from 0 to 500 mm")
        return None
    return length


def _amount(fields: Fields) -> Quantity | None:
    text = fields.text("amount")
    if not text:
        return None
    if text.startswith("-"):
        fields.wrong("amount", f"{shown(text)} is less than nothing", _AMOUNTS)
        return None
    quantity = fields.quantity("amount")
    if quantity is None:
        return None
    if not any(quantity.check(kind) for kind in ("[piece]", "[length]", "[mass]")):
        fields.wrong("amount", f"{shown(text)} is no count, length or weight", _AMOUNTS)
        return None
    if float(quantity.to_base_units().magnitude) > 1_000_000:
        fields.wrong("amount", f"{shown(text)} is more than any box holds", _AMOUNTS)
        return None
    return quantity
