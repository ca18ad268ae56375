"""The measures of one part as quantities: lengths, thicknesses, counts, within a fly's bounds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from variants.model import Origin
from variants.reading.faults import Faults, InputError
from variants.reading.fields import Fields
from variants.reading.measures import asked_length, asked_thickness
from variants.reading.words.quantities import Quantities

if TYPE_CHECKING:
    from collections.abc import Callable

    from pint import Quantity

_FIELD = "measure"
_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+|\d+/\d+)"
_WORDED = {"half": "0.5", "one": "1", "two": "2", "twice": "2", "one and a half": "1.5"}
_OF_HOOK = re.compile(
    rf"(?P<number>{_NUMBER}|{'|'.join(_WORDED)})?\s?(?:x|times)?\s?(?:the\s)?"
    r"(?P<of>hook\s(?=shank|gap)|shank|gape|gap|hook)\w*(?P<unit>shank|gape|gap)?.*",
    re.IGNORECASE,
)
_METRIC = re.compile(rf"(?P<number>{_NUMBER})\s?(?P<unit>mm|cm|in|inch|inches|\")\s?(?P<of>.*)")
_DENIER = re.compile(r"(\d+)\s?d(?:en(?:ier)?)?")
_INCHES = re.compile(r"0?(\.0\d{1,3})\"?")
#: Parts of which a bare length says how thick they are, and a bare number inches, as wire is sold.
_THICK = ("bead", "cone", "weight", "rib", "eyes", "head", "thread")
_BY_INCH = ("weight", "rib", "underbody")
_COUNTS = ("turns", "fibres")


def part_measures(
    quantities: Quantities, part: str
) -> tuple[Quantity[float] | None, Quantity[float] | None, list[str]]:
    """Return the length and the thickness told of a part, and what is wrong with either."""
    length: Quantity[float] | None = None
    thickness: Quantity[float] | None = None
    faults: list[str] = []
    for told in quantities.measures:
        text = told.strip(" +").lower()
        of_hook, metric = _OF_HOOK.fullmatch(text), _METRIC.fullmatch(text)
        if of_hook:
            length = length or _checked(_hook_measure(of_hook), asked_length, faults)
        elif metric and ("thick" in metric["of"] or (part in _THICK and not metric["of"])):
            thickness = thickness or _checked(_metric(metric), asked_thickness, faults)
        elif metric:
            length = length or _checked(_metric(metric), asked_length, faults)
        elif part == "thread" and (weight := _DENIER.fullmatch(text)):
            thickness = thickness or _checked(f"{weight[1]} denier", asked_thickness, faults)
        elif part in _BY_INCH and (inches := _INCHES.fullmatch(text)):
            thickness = thickness or _checked(f"0{inches[1]} inch", asked_thickness, faults)
    return length, thickness, faults


def _hook_measure(found: re.Match[str]) -> str:
    number = _WORDED.get(found["number"] or "one", found["number"] or "1")
    unit = (found["unit"] or found["of"]).strip().lower()
    return f"{number} {'gape' if unit.startswith('gap') else 'shank'}"


def _metric(found: re.Match[str]) -> str:
    unit = found["unit"] if found["unit"] in ("mm", "cm") else "inch"
    number = found["number"] if not found["number"].startswith(".") else f"0{found['number']}"
    return f"{number} {unit}"


def _checked(
    text: str, read: Callable[[Fields, str], Quantity[float] | None], faults: list[str]
) -> Quantity[float] | None:
    """Read a measure as a field of a dressing file is read, so that the same bounds hold."""
    noted = Faults()
    found = read(Fields({_FIELD: text}, lambda field: Origin("", 0, field), noted), _FIELD)
    try:
        noted.stop_if_any()
    except InputError as wrong:
        faults.extend(one.problem for one in wrong.faults)
    return found


def counts_of(quantities: Quantities) -> dict[str, int]:
    """Return the counts that are one number; ranges are kept as remarks."""
    return {
        name: low
        for name, (low, high) in quantities.counts.items()
        if low == high and name in _COUNTS and 0 < low < 500
    }


def remarks_of(quantities: Quantities) -> tuple[str, ...]:
    """Return the numbers that no field of a part holds."""
    ranges = (
        f"{low}-{high} {name}" for name, (low, high) in quantities.counts.items() if low != high
    )
    return (*ranges, *quantities.remarks, *quantities.measures)
