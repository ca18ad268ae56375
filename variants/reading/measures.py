"""Measures of things owned or asked for: parsed, of the right dimension, and of a sensible size.

Fields come in and plain numbers or quantities go out; what is wrong is noted with the text as it
stands in the file. Bounds are there to catch slips of the pen, and lie far outside the trade's own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from variants.reading.fields import Fields
from variants.text import shown
from variants.units import HOOK_UNITS, denier, parse_range

if TYPE_CHECKING:
    from pint import Quantity

_LONGEST_MM, _THICKEST_MM, _HEAVIEST_DENIER = 2000.0, 50.0, 50_000.0
#: Gapes, shanks or eyes.
_LONGEST_IN_HOOKS = 100.0
_LARGEST_AMOUNT = 1_000_000.0
_LENGTH_HELP = 'write "9 mm" or "1.5 gape"'
_LENGTHS_HELP = 'write a length such as "7 mm" or "6-8 mm"'
_THICKNESS_HELP = 'write "0.1 mm", or "70 denier" for thread'
_AMOUNT_HELP = "write what is left with its unit: 12 hooks, 25 feathers, 3 m, 0.5 g, or 0 feathers"


def asked_length(fields: Fields, field: str) -> Quantity[float] | None:
    """Return a length that a dressing asks for, absolute or in parts of the hook."""
    quantity = fields.quantity(field, _LENGTH_HELP)
    if quantity is None:
        return None
    text = shown(fields.text(field))
    if any(quantity.check(f"[{unit}]") for unit in HOOK_UNITS):
        size, highest = quantity.magnitude, _LONGEST_IN_HOOKS
    elif quantity.check("[length]"):
        size, highest = quantity.to("mm").magnitude, _LONGEST_MM
    else:
        fields.wrong(field, f"{text} is not a length", _LENGTH_HELP)
        return None
    if not 0 < size <= highest:
        remedy = f"write a length above 0, up to {_LONGEST_MM:g} mm, or {_LONGEST_IN_HOOKS:g} gape"
        fields.wrong(field, f"{text} is out of range", remedy)
        return None
    return quantity


def asked_thickness(fields: Fields, field: str) -> Quantity[float] | None:
    """Return a diameter or a thread weight that a dressing asks for."""
    quantity = fields.quantity(field, _THICKNESS_HELP)
    if quantity is None or not _is_thickness(fields, field, quantity):
        return None
    return quantity


def read_thickness(fields: Fields, field: str) -> tuple[float | None, float | None]:
    """Return a diameter in mm and a weight in denier, of which at most one is stated."""
    quantity = asked_thickness(fields, field)
    if quantity is None:
        return None, None
    if quantity.check("[length]"):
        return float(quantity.to("mm").magnitude), None
    return None, denier(quantity)


def _is_thickness(fields: Fields, field: str, quantity: Quantity[float]) -> bool:
    text = shown(fields.text(field))
    if quantity.check("[length]"):
        size, highest, unit = float(quantity.to("mm").magnitude), _THICKEST_MM, "mm"
    elif quantity.check("[mass] / [length]"):
        size, highest, unit = denier(quantity), _HEAVIEST_DENIER, "denier"
    else:
        fields.wrong(field, f"{text} is neither a diameter nor a thread weight", _THICKNESS_HELP)
        return False
    if not 0 < size <= highest:
        fields.wrong(
            field, f"{text} is out of range", f"write a measure above 0, up to {highest:g} {unit}"
        )
        return False
    return True


def read_hook_length_mm(fields: Fields, field: str) -> float | None:
    """Return a hook's gape or shank as its owner measured it, in mm."""
    lengths = read_lengths_mm(fields, field, 100.0)
    if lengths is not None and lengths[0] != lengths[1]:
        text = shown(fields.text(field))
        fields.wrong(field, f"{text} is a range, and a hook has one {field}", 'write "5 mm"')
    return lengths[0] if lengths else None


def read_lengths_mm(
    fields: Fields, field: str, highest: float = _LONGEST_MM
) -> tuple[float, float] | None:
    """Return the shortest and longest of what was measured, in mm."""
    bounds = fields.measured(field, parse_range, _LENGTHS_HELP)
    if bounds is None:
        return None
    text = shown(fields.text(field))
    if not bounds[0].check("[length]"):
        fields.wrong(field, f"{text} is not a length on a ruler", _LENGTHS_HELP)
        return None
    low, high = (float(bound.to("mm").magnitude) for bound in bounds)
    if not 0 < low <= high <= highest:
        fields.wrong(
            field, f"{text} is out of range", f"write a length above 0, up to {highest:g} mm"
        )
        return None
    return low, high


def read_amount(fields: Fields, field: str) -> Quantity[float] | None:
    """Return what is left of an item: pieces, a length or a weight; half a feather may be left."""
    quantity = fields.quantity(field, _AMOUNT_HELP)
    if quantity is None:
        return None
    text = shown(fields.text(field))
    if not any(quantity.check(kind) for kind in ("[piece]", "[length]", "[mass]")):
        fields.wrong(field, f"{text} is no count, length or weight", _AMOUNT_HELP)
    elif quantity.to_base_units().magnitude > _LARGEST_AMOUNT:
        fields.wrong(field, f"{text} is more than any box holds", _AMOUNT_HELP)
    elif quantity.check("[piece]") and not _may_be_left(quantity):
        fields.wrong(field, f"{text} is no number of pieces, whole or halves", _AMOUNT_HELP)
    else:
        return quantity
    return None


def _may_be_left(pieces: Quantity[float]) -> bool:
    """Tell whether so many pieces may be left: of hooks and beads whole ones, of others halves."""
    halves = 1.0 if str(pieces.units) in ("hook", "bead") else 2.0
    return (float(pieces.magnitude) * halves).is_integer()
