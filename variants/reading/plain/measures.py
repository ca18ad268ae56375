"""Numbers in a cell: counts, lengths, thicknesses and hook sizes, taken out before words are read.

``3 turns``, ``0.1 mm thick``, ``1.5 gape``, ``70 denier`` and, on a hook's line, ``12-16``. A
length that does not say what it measures stays among the words, and is reported; so does one that
no fly can have.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from variants.model import Origin
from variants.reading.dressings import COUNTS, parse_sizes
from variants.reading.faults import Faults
from variants.reading.fields import Fields
from variants.reading.measures import asked_length, asked_thickness
from variants.units import HOOK_UNITS, UnitError, parse_quantity

if TYPE_CHECKING:
    from pint import Quantity

_MEASURE = re.compile(
    r"(?<![\w./])(?P<number>\d{1,6}(?:\.\d{1,6})?|\d{1,4}/\d{1,4})\s?(?P<unit>[A-Za-z]{1,12})\b"
    r"(?P<of>\s(?:long|thick|wide|across)\b)?"
)
_SIZES = re.compile(
    r"(?:\b(?:hook\s)?(?:sizes?|nos?\.?)\s?|#\s?)?(?<![\w./])"
    r"(?P<sizes>\d{1,2}(?:\s?(?:-|–|to|,|and)\s?\d{1,2}){0,12})(?![\w./])",
    re.IGNORECASE,
)
_MOST = 500
_FIELD = "measure"


@dataclass(slots=True)
class Measured:
    """What was taken out of a cell, and the words that are left."""

    words: str
    counts: dict[str, int] = field(default_factory=dict)
    length: Quantity[float] | None = None
    thickness: Quantity[float] | None = None


def measured(text: str) -> Measured:
    """Take counts and measures out of a part's words."""
    found = Measured("")

    def take(match: re.Match[str]) -> str:
        return "" if _taken(match, found) else match[0]

    found.words = _MEASURE.sub(take, text).strip(" ,;")
    return found


def _taken(match: re.Match[str], found: Measured) -> bool:
    unit, of = match["unit"].lower(), (match["of"] or "").strip()
    count = next((name for name in COUNTS if name in (unit, f"{unit}s")), None)
    if count is not None and match["number"].isdigit() and int(match["number"]) <= _MOST:
        found.counts[count] = int(match["number"])
        return True
    text = f"{match['number']} {unit}"
    try:
        quantity = parse_quantity(text)
    except UnitError:
        return False
    relative = any(quantity.check(f"[{name}]") for name in HOOK_UNITS)
    if relative or (quantity.check("[length]") and of == "long"):
        length = asked_length(_field(text), _FIELD)
        found.length = length or found.length
        return length is not None
    if quantity.check("[mass] / [length]") or (quantity.check("[length]") and of):
        thickness = asked_thickness(_field(text), _FIELD)
        found.thickness = thickness or found.thickness
        return thickness is not None
    return False


def _field(text: str) -> Fields:
    """Return a measure as a field of a dressing file, so that the same bounds hold."""
    return Fields({_FIELD: text}, lambda field: Origin("", 0, field), Faults())


def hook_sizes(text: str) -> tuple[tuple[int, ...], str]:
    """Return the hook sizes that a text names, and the words that are left.

    Raises
    ------
    ValueError
        When what looks like sizes is none.

    Examples
    --------
    >>> hook_sizes("dry fly, sizes 12 to 16")
    ((12, 14, 16), 'dry fly')
    """
    sizes: set[int] = set()

    def take(match: re.Match[str]) -> str:
        sizes.update(parse_sizes(re.sub(r"\band\b", ",", match["sizes"])))
        return ""

    rest = _SIZES.sub(take, text).strip(" ,;")
    return tuple(sorted(sizes)), rest
