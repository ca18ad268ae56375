"""A small file of prices: what a shop asks for stuff in a colour and size, or in any.

Columns: material, colour, size, price, price_for, note. A row without a colour or a size holds for
all of them; what it says more closely comes first. `price_for` tells how much of it one buys.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from variants.model import Colour, Material, Origin, Trade
from variants.reading.faults import Faults
from variants.reading.measures import read_amount
from variants.reading.natural import find_natural_colour, means_natural
from variants.reading.tables import TableRow, read_sheet_table

if TYPE_CHECKING:
    from pint import Quantity

COLUMNS = ("material", "colour", "size", "price", "price_for", "note")
NUMBERS = ("price", "price_for")
_DEAREST = 1_000_000.0
#: Ids of material and colour, and a size; empty for any.
_Key = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Price:
    """What a shop asks.

    Attributes
    ----------
    price : float
        In whatever money the file is written.
    amount : Quantity or None
        What one gets for it: pieces, a length or a weight; None where that is not told.
    """

    price: float
    amount: Quantity[float] | None = None


@dataclass(frozen=True, slots=True)
class Prices:
    """The prices of a file.

    Attributes
    ----------
    rows : mapping
    """

    rows: Mapping[_Key, Price]

    def of(
        self, material: Material, colour: Colour | None = None, size: int | None = None
    ) -> Price | None:
        """Return the price of stuff, as closely as the file tells it; None when it does not."""
        shade, sized = colour.id if colour else "", str(size or "")
        for key in ((shade, sized), (shade, ""), ("", sized), ("", "")):
            found = self.rows.get((material.id, *key))
            if found is not None:
                return found
        return None


def read_prices(path: str | Path, trade: Trade) -> Prices:
    """Read a file of prices, saved as a spreadsheet saves it; ``-`` is standard input.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults = Faults()
    prices: dict[_Key, Price] = {}
    lines: dict[_Key, int] = {}
    for row in read_sheet_table(path, COLUMNS, ("material", "price"), faults, NUMBERS):
        key, price = _read(row, trade, faults)
        if key is None or price is None:
            continue
        if key in prices:
            faults.add(
                Origin(row.file, row.line, "price"),
                f"a price for the same stands in line {lines[key]}",
                "leave one of them",
            )
        prices[key], lines[key] = price, row.line
    faults.stop_if_any()
    return Prices(prices)


def _read(row: TableRow, trade: Trade, faults: Faults) -> tuple[_Key | None, Price | None]:
    fields = row.fields(faults)
    material = fields.entry("material", trade.material_names, "material")
    colour = None
    if fields.has("colour"):
        if material is not None and means_natural(fields.text("colour"), material):
            colour = find_natural_colour(material, trade)
        else:
            colour = fields.entry("colour", trade.colour_names, "colour")
    size = fields.whole("size", 1, 40) if fields.has("size") else None
    price, bought = fields.number("price", 0.0, _DEAREST), read_amount(fields, "price_for")
    if price is None and not fields.has("price"):
        fields.wrong("price", "is missing", "write a number, such as 4.50")
    fields.text("note")
    fields.finish()
    key = (material.id, colour.id if colour else "", str(size or "")) if material else None
    return key, None if price is None else Price(price, bought)
