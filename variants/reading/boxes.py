"""Box files (CSV, as a spreadsheet saves them) to `Box`; one row is one thing owned.

Columns: item, material, colour, sizes, length, thickness, gape, shank, side, amount, price,
price_for, place, note.
Only item and material must be there; columns of the owner's own are let be.
"""

from __future__ import annotations

import re
from pathlib import Path

from variants.model import Box, Colour, Item, Origin, Trade, plain
from variants.reading.faults import Faults, shown
from variants.reading.fields import Fields
from variants.reading.files import shown_name
from variants.reading.measures import amount, hook_length_mm, lengths_mm, thickness
from variants.reading.sizes import SizesError, parse_sizes
from variants.reading.tables import Row, read_table

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
    "price",
    "price_for",
    "place",
    "note",
)
SIDES = ("left", "right", "pair")
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
_LONGEST_NAME = 200
_DEAREST = 1_000_000.0


def read_box(path: str | Path, trade: Trade) -> Box:
    """Read a box; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults = Faults()
    rows = read_table(path, COLUMNS, ("item", "material"), faults, tabs=False, extra_columns=True)
    faults.stop_if_any()
    items: dict[str, Item] = {}
    for row in rows:
        item = _item(row, trade, faults)
        if item is None:
            continue
        first = items.setdefault(plain(item.id), item)
        if first is not item:
            other = "" if first.id == item.id else f" {shown(first.id)}"
            where = f"the item{other} in line {first.origin.line}"
            faults.add(
                Origin(row.file, row.line, "item"),
                f"{shown(item.id)} is already the name of {where}",
                "give each item a name of its own",
            )
    faults.stop_if_any()
    return Box(tuple(items.values()), Origin(shown_name(path)))


def _item(row: Row, trade: Trade, faults: Faults) -> Item | None:
    fields = row.fields(faults)
    name = fields.text("item", None)
    if len(name) > _LONGEST_NAME:
        fields.wrong(
            "item", f"the name is {len(name)} characters long", f"keep it under {_LONGEST_NAME}"
        )
    material = None
    if fields.has("material"):
        material = fields.entry("material", trade.material_names, "material")
    else:
        fields.wrong("material", "the material is missing", "name a material of the tables")
    colour = _colour(fields, trade)
    sizes, length_mm = _sizes(fields), lengths_mm(fields, "length")
    thickness_mm, denier = thickness(fields, "thickness")
    gape_mm, shank_mm = hook_length_mm(fields, "gape"), hook_length_mm(fields, "shank")
    side, left = fields.choice("side", SIDES), amount(fields, "amount")
    price, bought = fields.number("price", 0.0, _DEAREST), amount(fields, "price_for")
    place, note = fields.text("place"), fields.text("note")
    if material is None or not name:
        return None
    if "hook" in material.functions and not fields.has("sizes"):
        fields.wrong("sizes", "the hook's size is missing", "write it, such as 14, or 12-16")
    if colour is None and not fields.has("colour") and material.natural_colour:
        colour = trade.colours.get(material.natural_colour)
    return Item(
        id=name,
        material=material,
        colour=colour,
        sizes=sizes,
        length_mm=length_mm,
        thickness_mm=thickness_mm,
        denier=denier,
        gape_mm=gape_mm,
        shank_mm=shank_mm,
        side=side,
        amount=left,
        price=price,
        bought=bought,
        place=place,
        note=note,
        origin=fields.origin(),
    )


def _colour(fields: Fields, trade: Trade) -> Colour | None:
    text = fields.text("colour")
    if _HEX.fullmatch(text):
        return Colour(id=text.lower(), name=text.lower(), hexes=(text.upper(),), source="measured")
    if text.startswith("#"):
        fields.wrong("colour", f"{shown(text)} is no measured shade", "write # and six of 0-9, A-F")
        return None
    return fields.lookup("colour", text, trade.colour_names, "colour") if text else None


def _sizes(fields: Fields) -> tuple[int, ...] | None:
    text = fields.text("sizes")
    if not text:
        return None
    try:
        return parse_sizes(text)
    except SizesError as problem:
        fields.wrong("sizes", problem.problem, problem.remedy)
        return None
