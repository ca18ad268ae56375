"""How far two values of a property stand apart, by its own measure, and how that is told."""

from __future__ import annotations

from math import log2

from variants.rulebook.likeness_profiles import (
    FLAG,
    GRADE,
    LENGTH,
    ORDER,
    WORD,
    Property,
    PropertyValue,
)

_GRADES = 4.0
_WORDS = ("", "one grade", "two grades", "three grades", "four grades")

Distance = tuple[float, str]
NO_DISTANCE: Distance = (0.0, "")


def value_difference(prop: Property, wanted: PropertyValue, found: PropertyValue) -> Distance:
    """Return how far two values of a property stand apart, 0 to 1, and how that is told."""
    if wanted is None or found is None or wanted == found:
        return NO_DISTANCE
    if prop.measure == WORD:
        apart = prop.pairs.get((str(wanted), str(found)), 1.0)
        return apart, f"{found}, not {wanted}"
    if prop.measure == FLAG:
        return _directed(prop, 1.0 if found else -1.0, "")
    if prop.measure == ORDER:
        steps = prop.order.index(str(found)) - prop.order.index(str(wanted))
        return _directed(prop, steps / (len(prop.order) - 1), "")
    if prop.measure == LENGTH and isinstance(wanted, tuple) and isinstance(found, tuple):
        return _lengths(prop, wanted, found)
    if isinstance(wanted, int | float) and isinstance(found, int | float):
        if prop.measure == GRADE:
            grades = int(found - wanted)
            return _directed(prop, grades / _GRADES, f" by {_WORDS[abs(grades)]}")
        return _directed(prop, log2(found / wanted) / prop.span, "")
    return NO_DISTANCE


def _directed(prop: Property, difference: float, how_much: str) -> Distance:
    share = prop.more_costs if difference > 0 else prop.less_costs
    words = prop.more if difference > 0 else prop.less
    return min(1.0, abs(difference)) * share, words + how_much


def _lengths(prop: Property, wanted: tuple[float, float], found: tuple[float, float]) -> Distance:
    """Compare ranges of fibre length: what is missing at the long and at the short end."""
    short_by = log2(max(wanted[1], 0.1) / max(found[1], 0.1))
    long_by = log2(max(found[0], 0.1) / max(wanted[0], 0.1))
    if short_by <= 0 and long_by <= 0:
        return NO_DISTANCE
    if short_by * prop.less_costs >= long_by * prop.more_costs:
        return _directed(prop, -short_by / prop.span, "")
    return _directed(prop, long_by / prop.span, "")
