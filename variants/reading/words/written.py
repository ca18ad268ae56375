"""A `Dressing` to the TOML text that reads back as the same dressing."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from variants.model import Colour, Dressing, Ingredient, Material, Part, Trade, plain
from variants.reading.dressings import NOTHING

if TYPE_CHECKING:
    from pint import Quantity


def dressing_text(dressing: Dressing, trade: Trade) -> str:
    """Return a dressing as TOML in the format of dressing files.

    Parameters
    ----------
    dressing : Dressing
    trade : Trade
        The tables whose names are written.

    Notes
    -----
    A material whose colour is None reads back in its natural colour, if it has one; the readers of
    this package always fill that in.
    """
    lines = [f"name = {_text(dressing.name)}", f"style = {_text(dressing.style)}"]
    lines.append(f"sizes = {list(dressing.sizes)}")
    lines.append(f"size = {dressing.size}")
    for field, value in (("source", dressing.source), ("note", dressing.note)):
        if value:
            lines.append(f"{field} = {_text(value)}")
    for part in dressing.parts:
        lines.extend(["", *_part_lines(part, trade)])
    return "\n".join(lines) + "\n"


def _part_lines(part: Part, trade: Trade) -> Iterator[str]:
    yield f"[part.{part.id}]"
    first, *others = part.ingredients
    for field, value in _fields(first, trade):
        yield f"{field} = {value}"
    if others:
        tables = ", ".join(f"{{ {_table(other, trade)} }}" for other in others)
        yield f"also = [{tables}]"
    if part.alternatives:
        yield f"or = [{', '.join(_alternative(one, trade) for one in part.alternatives)}]"
    for name, quantity in (("length", part.length), ("thickness", part.thickness)):
        if quantity is not None:
            yield f"{name} = {_text(_measure(quantity))}"
    for name, count in part.counts.items():
        yield f"{name} = {count}"
    if part.signature:
        yield "signature = true"
    if part.note:
        yield f"note = {_text(part.note)}"


def _alternative(ingredients: Sequence[Ingredient], trade: Trade) -> str:
    if not ingredients:
        return _text(NOTHING)
    first, *others = (_table(one, trade) for one in ingredients)
    also = f", also = [{', '.join(f'{{ {one} }}' for one in others)}]" if others else ""
    return f"{{ {first}{also} }}"


def _table(ingredient: Ingredient, trade: Trade) -> str:
    return ", ".join(f"{field} = {value}" for field, value in _fields(ingredient, trade))


def _fields(ingredient: Ingredient, trade: Trade) -> Iterator[tuple[str, str]]:
    yield "material", _text(_name(ingredient.material, trade.material_names))
    if ingredient.colour is not None:
        yield "colour", _text(_name(ingredient.colour, trade.colour_names))


def _name(entry: Material | Colour, names: Mapping[str, Material] | Mapping[str, Colour]) -> str:
    """Return the trade name where it leads back to the entry, else the id."""
    return entry.name if names.get(plain(entry.name)) == entry else entry.id


def _measure(quantity: Quantity[float]) -> str:
    """Return a measure without an exponent, to the last digit."""
    return f"{Decimal(repr(float(quantity.magnitude))):f} {quantity.units}"


def _text(value: str) -> str:
    """Return a TOML basic string; JSON's escapes are TOML's, but for the delete sign."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
