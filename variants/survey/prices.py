"""A small file of prices: what a shop asks for stuff in a colour, or in any."""

from __future__ import annotations

from pathlib import Path

from variants.model import Trade
from variants.reading import Faults, read_table

COLUMNS = ("material", "colour", "size", "price", "note")
_DEAREST = 1_000_000.0


def read_prices(path: str | Path, trade: Trade) -> dict[tuple[str, ...], float]:
    """Read a CSV file of prices, by what `Offer.key` says; a row without colour holds for all.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults = Faults()
    prices: dict[tuple[str, ...], float] = {}
    for row in read_table(path, COLUMNS, ("material", "price"), faults, tabs=False):
        fields = row.fields(faults)
        material = fields.entry("material", trade.material_names, "material")
        colour = None
        if fields.has("colour"):
            colour = fields.entry("colour", trade.colour_names, "colour")
        size = fields.whole("size", 1, 40) if fields.has("size") else None
        price = fields.number("price", 0.0, _DEAREST)
        if price is None:
            fields.wrong("price", "is missing", "write a number, such as 4.50")
        fields.text("note")
        fields.finish()
        if material is None or price is None:
            continue
        if colour is None and size is None:
            prices[material.id,] = price
        else:
            prices[material.id, colour.id if colour else "", str(size or "")] = price
    faults.stop_if_any()
    return prices
