"""Lengths and tested numbers in the unit that the reader has chosen."""

from __future__ import annotations

from variants.explain.wording import number_words
from variants.geometry.targets import inch_fraction
from variants.rulebook import Number
from variants.text import printable

MM, INCH = UNITS = ("mm", "inch")


def length_words(length_mm: float, units: str) -> str:
    """Return a length.

    >>> length_words(6.35, "mm"), length_words(6.35, "inch")
    ('6.3 mm', '1/4 in')
    """
    return f"{inch_fraction(length_mm)} in" if units == INCH else f"{length_mm:.1f} mm"


def range_words(low_mm: float, high_mm: float, units: str) -> str:
    """Return a range of lengths, or one length where both ends are shown alike.

    >>> range_words(6.0, 8.0, "mm"), range_words(6.0, 6.01, "mm")
    ('6.0 to 8.0 mm', '6.0 mm')
    """
    low, high = length_words(low_mm, units), length_words(high_mm, units)
    return high if low == high else f"{low.rpartition(' ')[0]} to {high}"


def tested_words(number: Number, units: str) -> str:
    """Return a number that a rule has tested, with its bounds.

    >>> tested_words(Number("hackle length", 6.35, low=5.0, high=8.0, unit="mm"), "inch")
    'hackle length: 1/4 in (allowed 13/64 to 5/16)'
    """
    if units != INCH or number.unit != MM or isinstance(number.value, str):
        return number_words(number)
    bounds = []
    if number.target is not None and inch_fraction(number.target) != inch_fraction(number.value):
        bounds.append(f"right would be {inch_fraction(number.target)}")
    low, high = number.low, number.high
    if low is not None and high is not None:
        bounds.append(f"allowed {inch_fraction(low)} to {inch_fraction(high)}")
    elif low is not None:
        bounds.append(f"at least {inch_fraction(low)}")
    elif high is not None:
        bounds.append(f"at most {inch_fraction(high)}")
    told = f"{printable(number.what)}: {inch_fraction(number.value)} in"
    return f"{told} ({'; '.join(bounds)})" if bounds else told
