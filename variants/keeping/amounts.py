"""Sums on the amounts of a box, cell by cell: ``25 feathers`` less ``2 feathers``.

The unit stays the one that the cell is written in, and so does its decimal sign.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from variants.reading import shown
from variants.reading.sheets import decimal_points
from variants.units import UnitError, parse_quantity

if TYPE_CHECKING:
    from pint import Quantity

#: What takes all that is left.
ALL = "all"
_UNIT = re.compile(r"[A-Za-z]+\s*$")
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[0-9]+/[0-9]+")
_DECIMAL_COMMA = re.compile(r"[0-9],[0-9]")


class AmountError(ValueError):
    """A sum that can't be done.

    Attributes
    ----------
    remedy : str
        What would be right.
    """

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.remedy = remedy


def quantity_of(cell: str) -> Quantity[float]:
    """Return what an amount cell holds.

    Raises
    ------
    AmountError
        When it is no measure.
    """
    try:
        return parse_quantity(decimal_points(cell))
    except UnitError as problem:
        remedy = "write a number and a unit, such as 3 feathers, 2 m, 0.5 g or 1 pinch"
        raise AmountError(str(problem), remedy) from None


def less(cell: str, taken: str) -> str:
    """Return an amount after something was taken; ``all`` takes all.

    Raises
    ------
    AmountError
        When less is left, or the two can't be compared.

    Examples
    --------
    >>> less("0.5 g", "1 pinch"), less("2 hooks", "1 hook"), less("0,5 g", "0.2 g")
    ('0.45 g', '1 hook', '0,3 g')
    """
    left = quantity_of(cell)
    if taken.strip().lower() == ALL:
        return _written(0.0, cell)
    taken = with_unit(taken, cell)
    wanted = _in_units(quantity_of(taken), left, taken, cell)
    rest = float(left.magnitude) - wanted
    if rest < -1e-9 * max(1.0, wanted):
        raise AmountError(
            f"{shown(taken)} is more than the {shown(cell)} left", "take less, or write 'all'"
        )
    return _written(max(0.0, rest), cell)


def more(cell: str, came: str) -> str:
    """Return an amount after something was bought; an empty cell counts as nothing.

    Raises
    ------
    AmountError
        When the two can't be added.

    Examples
    --------
    >>> more("1 hook", "25 hooks"), more("", "3 m")
    ('26 hooks', '3 m')
    """
    came = with_unit(came, cell)
    bought = quantity_of(came)
    if not cell:
        return came.strip()
    left = quantity_of(cell)
    return _written(float(left.magnitude) + _in_units(bought, left, came, cell), cell)


def minus(cell: str, number: float) -> str:
    """Return an amount less a number of its own units, never below nothing.

    >>> minus("12 feathers", 8.5)
    '3.5 feathers'
    """
    return _written(max(0.0, float(quantity_of(cell).magnitude) - number), cell)


def _in_units(quantity: Quantity[float], like: Quantity[float], said: str, cell: str) -> float:
    if quantity.dimensionality != like.dimensionality:
        remedy = f"tell it in a unit that the box counts it in: it holds {cell}"
        raise AmountError(f"{shown(said)} can't be set against {shown(cell)}", remedy)
    return float(quantity.to(like.units).magnitude)


def _written(number: float, cell: str) -> str:
    """Return a number with the unit and the decimal sign of a cell."""
    match = _UNIT.search(cell)
    told = told_amount(number, match[0].strip() if match else "")
    return told.replace(".", ",", 1) if _DECIMAL_COMMA.search(cell) else told


def told_amount(number: float, unit: str) -> str:
    """Return a number with its unit; pieces stand in the singular or the plural.

    >>> told_amount(1.0, "feathers"), told_amount(2.0, "pinch"), told_amount(0.5, "m")
    ('1 feather', '2 pinches', '0.5 m')
    """
    quantity = quantity_of(f"1 {unit}")
    if quantity.check("[piece]") or unit.startswith("pinch"):
        bare = unit.removesuffix("es") if unit.endswith("ches") else unit.removesuffix("s")
        plural = f"{bare}es" if bare.endswith("ch") else f"{bare}s"
        unit = bare if number == 1 else plural
    return f"{number:.10g} {unit}"


def with_unit(said: str, cell: str) -> str:
    """Return what was said with the unit of a cell where it says a bare number.

    >>> with_unit("2", "25 feathers"), with_unit("2 g", "25 feathers")
    ('2 feathers', '2 g')
    """
    match = _UNIT.search(cell)
    is_bare = _BARE.fullmatch(said.strip()) is not None
    return f"{said.strip()} {match[0].strip()}" if is_bare and match else said
