"""Numbers in a cell: counts, lengths, thicknesses and hook sizes, taken out before words are read.

``3 turns``, ``0.1 mm thick``, ``1.5 gape``, ``one shank length``, ``70 denier`` and, on a hook's
line, ``12-16``. Of a bead or of lead a bare length says how thick it is. A number that a fly can't
be reckoned with, such as ``3-4 strands``, is kept as a remark. A length that does not say what it
measures stays among the words, and is reported; so does one that no fly can have.
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
#: ``one shank length``, ``one and a half times the gape``, ``1.5 x hook gap``, ``hook length``.
_OF_HOOK = re.compile(
    r"(?<![\w./])(?P<number>\d{1,2}(?:\.\d{1,3})?|one and a half|one and one half|half|one|two)?"
    r"(?P<times>\s?(?:x|times)\b)?\s?(?:the\s)?(?:(?P<hook>hook)(?:'s)?\s)?"
    r"(?P<unit>shank|gape|gap)(?P<length>[\s-](?:lengths?|widths?))?(?:\slong)?\b",
    re.IGNORECASE,
)
_HOOK_LENGTH = re.compile(
    r"\b(?:length of (?:the )?(?:hook )?shank|(?:hook|shank)[\s-]length)\b", re.I
)
_NUMBERS = {"one and a half": 1.5, "one and one half": 1.5, "half": 0.5, "one": 1.0, "two": 2.0}
#: ``3-4 strands``, ``(4-6)``, ``size 14`` of a hackle, ``#14``: kept, and not reckoned with.
_REMARK = re.compile(
    r"\(\s?\d{1,3}(?:\s?(?:-|–|to|or)\s?\d{1,3})?\s?\)"
    r"|(?<![\w./#])(?:\d{1,3}\s?(?:-|–|to|or)\s?)?\d{1,3}\s(?:strands?|hairs?|pieces?|pairs?|tips|"
    r"legs|tails)\b"
    r"|(?<![\w./#])\d{1,3}\s?(?:-|–|to|or)\s?\d{1,3}(?:\s(?:turns?|wraps?|fibres?|fibers?|feathers?|"
    r"barbs?))?(?![\w./])"
    r"|(?:\bsizes?\s?|#)\s?\d{1,2}(?:\s?-\s?\d{1,2})?(?![\w./])",
    re.IGNORECASE,
)
#: ``.015`` of lead or ``0.010 in``, as wire is sold, where no millimetres are said.
_INCHES = re.compile(
    r"(?<![\w./])0?(?P<inches>\.\d{2,4})(?:\s?(?:inch(?:es)?\b|in\b|[\"”″])|(?!\s?mm))"
)
#: ``3 pheasant tails``: how many, where no unit says of what.
_HOW_MANY = re.compile(r"(?<![\w./#])\d{1,2}(?=\s[A-Za-z'’ ]|$)")
#: Other words for what is counted.
_COUNTED = {"wraps": "turns", "wrap": "turns", "fibers": "fibres", "fiber": "fibres",
            "barbs": "fibres", "barb": "fibres"}  # fmt: skip
#: Parts of which a bare length says how thick they are, and a bare number inches, as wire is sold.
_THICK = ("bead", "weight", "rib", "thread", "eyes")
_THREAD_UNIT = "denier"
_SIZES = re.compile(
    r"(?:\b(?:hook\s)?(?:sizes?|nos?\.?)\s?|#\s?)?(?<![\w./])"
    r"(?P<sizes>\d{1,2}(?:\s?(?:-|–|to|,|and)\s?\d{1,2}){0,12})(?![\w./])",
    re.IGNORECASE,
)
_MOST = 500
_FIELD = "measure"
_HOOK = "hook"


@dataclass(slots=True)
class Measured:
    """What was taken out of a cell, and the words that are left."""

    words: str
    counts: dict[str, int] = field(default_factory=dict)
    length: Quantity[float] | None = None
    thickness: Quantity[float] | None = None
    remarks: list[str] = field(default_factory=list)


def measured(text: str, part: str = "") -> Measured:
    """Take counts and measures out of the words of a part.

    Examples
    --------
    >>> measured("black cock, 3 turns, (4-6)").counts
    {'turns': 3}
    >>> str(measured("marabou, one shank length").length)
    '1.0 shank'
    """
    found = Measured("")

    def remark(match: re.Match[str]) -> str:
        found.remarks.append(match[0].strip(" ()"))
        return ""

    def of_hook(match: re.Match[str]) -> str:
        return "" if _relative(match, found) else match[0]

    def take(match: re.Match[str]) -> str:
        if not _taken(match, found, part):
            return match[0]
        # The unit of a thread tells what it is made of.
        return _THREAD_UNIT if match["unit"].lower() == _THREAD_UNIT else ""

    def inches(match: re.Match[str]) -> str:
        found.thickness = asked_thickness(_field(f"0{match['inches']} inch"), _FIELD)
        return match[0] if found.thickness is None else ""

    if part in _THICK:
        text = _INCHES.sub(inches, text)
    if part != _HOOK:
        text = _REMARK.sub(remark, text)
        text = _OF_HOOK.sub(of_hook, _HOOK_LENGTH.sub("1 shank", text))
    text = _MEASURE.sub(take, text)
    if part != _HOOK:
        text = _HOW_MANY.sub(remark, text)
    found.words = text.strip(" ,;")
    return found


def _relative(match: re.Match[str], found: Measured) -> bool:
    """Take a length told in gapes or shanks; the bare word alone tells none."""
    told = match["number"]
    if not told and not match["length"]:
        return False
    number = _NUMBERS.get(told.lower()) if told else 1.0
    unit = "shank" if match["unit"].lower() == "shank" else "gape"
    length = asked_length(_field(f"{number if number is not None else told} {unit}"), _FIELD)
    found.length = length or found.length
    return length is not None


def _taken(match: re.Match[str], found: Measured, part: str) -> bool:
    unit, of = match["unit"].lower(), (match["of"] or "").strip()
    if part in _THICK and not of:
        of = "thick"
    count = next((name for name in COUNTS if name in (unit, f"{unit}s", _COUNTED.get(unit))), None)
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
