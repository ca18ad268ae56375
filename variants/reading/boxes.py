"""Box files (CSV or XLSX, as a spreadsheet saves them) to `Box`; one row is one thing owned.

Columns: item, material, colour, sizes, length, thickness, gape, shank, side, amount, price,
price_for, blend, place, note.
Only item and material must be there; columns of the owner's own are let be. A colour is a name of
the tables, ``natural``, a hex value or L*a*b* as measured.
"""

from __future__ import annotations

import re
from pathlib import Path

from variants.cielab import nearest_shade
from variants.model import Box, Colour, Item, Origin, Trade, plain
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.files import shown_name
from variants.reading.measures import (
    read_amount,
    read_hook_length_mm,
    read_lengths_mm,
    read_thickness,
)
from variants.reading.natural import find_natural_colour, means_natural
from variants.reading.recipes import parse_blend
from variants.reading.sheets import read_sheet
from variants.reading.sizes import SizesError, parse_sizes
from variants.reading.tables import TableRow, read_table, strip_spreadsheet_marks
from variants.text import shown

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
    "blend",
    "place",
    "note",
)
#: Columns of numbers, where a spreadsheet may write a comma for the point.
NUMBERS = ("length", "thickness", "gape", "shank", "amount", "price", "price_for")
SIDES = ("left", "right", "pair")
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
_NUMBER = r"([+-]?[0-9]{1,3}(?:\.[0-9]{1,6})?)"
_LAB = re.compile(
    rf"(?:lab\s*\(?|l\*?a\*?b\*?\s*\(?|l\*?)\s*{_NUMBER}[,;\s]+(?:a\*?\s*)?{_NUMBER}"
    rf"[,;\s]+(?:b\*?\s*)?{_NUMBER}\s*\)?",
    re.IGNORECASE,
)
_LAB_HELP = "write it with D65 light, such as lab(60, 5, 20): L* 0 to 100, a* and b* to 128"
_LIGHTEST, _STRONGEST = 100.0, 128.0
_LONGEST_NAME = 200
_DEAREST = 1_000_000.0


def read_box(path: str | Path, trade: Trade) -> Box:
    """Read a box; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return parse_box(read_sheet(path), shown_name(path), trade)


def parse_box(text: str, name: str, trade: Trade) -> Box:
    """Return the box that a text parted by commas holds.

    Parameters
    ----------
    text : str
        As `read_sheet` gives it.
    name : str
        The file's, for messages.
    trade : Trade

    Raises
    ------
    InputError
        With every fault of the text.
    """
    faults = Faults()
    rows = read_table(
        name,
        COLUMNS,
        ("item", "material"),
        faults,
        tabs=False,
        extra_columns=True,
        text=text,
        hint="'flykin box import' takes in a list whose columns have other names",
    )
    faults.stop_if_any()
    items: dict[str, Item] = {}
    for row in rows:
        item = _item(strip_spreadsheet_marks(row, NUMBERS), trade, faults)
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
    return Box(tuple(items.values()), Origin(name))


def _item(row: TableRow, trade: Trade, faults: Faults) -> Item | None:
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
    own_shade = means_natural(fields.text("colour"), material)
    shade = None if own_shade else parse_colour(fields, trade)
    sizes, length_mm = _sizes(fields), read_lengths_mm(fields, "length")
    thickness_mm, denier = read_thickness(fields, "thickness")
    gape_mm, shank_mm = read_hook_length_mm(fields, "gape"), read_hook_length_mm(fields, "shank")
    side, left = fields.choice("side", SIDES), read_amount(fields, "amount")
    price, bought = fields.number("price", 0.0, _DEAREST), read_amount(fields, "price_for")
    mixed = parse_blend(fields, "blend", trade)
    place, note = fields.text("place"), fields.text("note")
    if material is None or not name:
        return None
    if "hook" in material.functions and not fields.has("sizes"):
        fields.wrong("sizes", "the hook's size is missing", "write it, such as 14, or 12-16")
    if own_shade:
        shade = find_natural_colour(material, trade)
    return Item(
        id=name,
        material=material,
        colour=shade,
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
        blend=mixed,
        place=place,
        note=note,
        origin=fields.origin(),
    )


def parse_colour(fields: Fields, trade: Trade) -> Colour | None:
    """Return a colour of the tables, or a shade as measured; None after noting what is wrong."""
    text = fields.text("colour")
    if _HEX.fullmatch(text):
        return Colour(id=text.lower(), name=text.lower(), hexes=(text.upper(),), source="measured")
    measured = _LAB.fullmatch(text)
    if measured:
        return _of_lab(fields, text, (float(measured[1]), float(measured[2]), float(measured[3])))
    if text.startswith("#"):
        fields.wrong("colour", f"{shown(text)} is no measured shade", "write # and six of 0-9, A-F")
        return None
    return fields.lookup("colour", text, trade.colour_names, "colour") if text else None


def _of_lab(fields: Fields, text: str, values: tuple[float, float, float]) -> Colour | None:
    """Return a shade measured as L*a*b*, as near to it as a screen can show."""
    if not 0 <= values[0] <= _LIGHTEST or max(map(abs, values[1:])) > _STRONGEST:
        fields.wrong("colour", f"{shown(text)} is no L*a*b*", _LAB_HELP)
        return None
    shade = nearest_shade(values)
    name = "L*{:g} a*{:g} b*{:g}".format(*values)
    return Colour(id=shade.lower(), name=name, hexes=(shade.upper(),), source="measured")


def _sizes(fields: Fields) -> tuple[int, ...] | None:
    text = fields.text("sizes")
    if not text:
        return None
    try:
        return parse_sizes(text)
    except SizesError as problem:
        fields.wrong("sizes", problem.problem, problem.remedy)
        return None
