"""Amounts as a tyer can measure them: 0.01 g on a pocket scale, 0.1 m by the arm, half a feather.

An exact number in some unit comes in; the text that a box holds goes out. The exact one is kept in
the journal, so that a thousand small uses add up to one large one.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from functools import cache

from variants.units import parse_quantity

#: The finest that is told of a weight or a length (common practice), in g and m.
_FINEST = {"[mass]": ("g", 0.01), "[length]": ("m", 0.1)}
#: Of pieces a half may be left; a hook and a bead are whole.
_HALF, _WHOLE = Decimal("0.5"), Decimal(1)
_NEVER_PARTED = ("hook", "bead")
#: A rest of less than so many steps is none: it comes of counting in binary.
_NOTHING = Decimal("1e-6")
#: A rest smaller than one step is told by up to so many digits more.
_FINER = 2


def to_decimal(number: float) -> Decimal:
    """Return a float as a decimal of 12 digits, without the noise of binary.

    >>> to_decimal(0.1 + 0.2)
    Decimal('0.3')
    """
    return Decimal(f"{number:.12g}")


@cache
def measuring_step(unit: str) -> Decimal:
    """Return the step to which an amount in a unit is rounded.

    >>> [str(measuring_step(unit)) for unit in ("g", "m", "cm", "feathers", "hooks", "pinch")]
    ['0.01', '0.1', '1', '0.5', '1', '0.1']
    """
    one = parse_quantity(f"1 {unit}")
    for kind, (fine, step) in _FINEST.items():
        if one.check(kind):
            in_unit = to_decimal(step / float(one.to(fine).magnitude))
            return min(Decimal(1), Decimal(1).scaleb(in_unit.adjusted()))
    return _WHOLE if is_whole_unit(unit) else _HALF


@cache
def is_whole_unit(unit: str) -> bool:
    """Tell whether a unit counts things that are used whole: hooks, beads."""
    return str(parse_quantity(f"1 {unit}").units) in _NEVER_PARTED


def round_to_measurable(number: Decimal, unit: str) -> Decimal:
    """Return an amount rounded to what can be measured; more than nothing never becomes nothing.

    >>> [str(round_to_measurable(Decimal(n), "g")) for n in ("1.199648833", "0.004", "0")]
    ['1.20', '0.004', '0']
    """
    step = measuring_step(unit)
    if number < step * _NOTHING:
        return Decimal(0)
    told = _rounded(number, step)
    if told or parse_quantity(f"1 {unit}").check("[piece]"):
        return told or step
    for digits in range(1, _FINER + 1):
        told = told or _rounded(number, step.scaleb(-digits))
    return told


def _rounded(number: Decimal, step: Decimal) -> Decimal:
    return (number / step).quantize(Decimal(1), ROUND_HALF_EVEN) * step


def format_number(number: Decimal) -> str:
    """Return a number without noughts at its end.

    >>> format_number(Decimal("1.20")), format_number(Decimal(100))
    ('1.2', '100')
    """
    told = f"{number:f}"
    return told.rstrip("0").rstrip(".") if "." in told else told
