"""Sums on the amounts of a box, cell by cell: ``25 feathers`` less ``2 feathers``.

The unit stays the one that the cell is written in, and so does its decimal sign. What is written is
what can be measured; the exact amount goes along with it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from variants.box.measurable import exactly, measurable, number_words
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


@dataclass(frozen=True, slots=True)
class Stock:
    """An amount of an item: as its cell tells it, and exactly.

    Attributes
    ----------
    cell : str
        Such as ``1.2 g``.
    exact : Decimal
        In the unit of the cell: ``1.199648833``.
    """

    cell: str
    exact: Decimal


def stock_of(cell: str, exact: Decimal | None = None) -> Stock:
    """Return what a cell holds, exactly where that is known.

    Raises
    ------
    AmountError
        When it is no measure.
    """
    quantity = quantity_of(cell)
    return Stock(cell, exactly(float(quantity.magnitude)) if exact is None else exact)


def less(stock: Stock, taken: str) -> Stock:
    """Return an amount after something was taken; ``all`` takes all.

    Raises
    ------
    AmountError
        When less is left, or the two can't be compared.

    Examples
    --------
    >>> [less(stock_of(cell), taken).cell for cell, taken in
    ...  (("0.5 g", "1 pinch"), ("2 hooks", "1 hook"), ("0,5 g", "0.2 g"), ("2 m", "13 cm"))]
    ['0.45 g', '1 hook', '0,3 g', '1.9 m']
    """
    if taken.strip().lower() == ALL:
        return _written(Decimal(0), stock.cell)
    taken = with_unit(taken, stock.cell)
    wanted = _in_units(taken, stock.cell)
    # Who takes what the cell tells takes all of it.
    if wanted > max(stock.exact, stock_of(stock.cell).exact):
        raise AmountError(
            f"{shown(taken)} is more than the {shown(stock.cell)} left", "take less, or write 'all'"
        )
    return _written(stock.exact - wanted, stock.cell)


def more(stock: Stock | None, came: str) -> Stock:
    """Return an amount after something was bought; None before where none was noted.

    Raises
    ------
    AmountError
        When the two can't be added.

    Examples
    --------
    >>> more(stock_of("1 hook"), "25 hooks").cell, more(None, "3 m").cell
    ('26 hooks', '3 m')
    """
    if stock is None:
        return stock_of(came.strip())
    return _written(stock.exact + _in_units(with_unit(came, stock.cell), stock.cell), stock.cell)


def minus(stock: Stock, number: float) -> Stock:
    """Return an amount less a number of its own units, never below nothing.

    >>> minus(stock_of("12 feathers"), 8.6).cell
    '3.5 feathers'
    """
    return _written(stock.exact - exactly(number), stock.cell)


def _in_units(said: str, cell: str) -> Decimal:
    """Return what was said in the unit of a cell."""
    quantity, like = quantity_of(said), quantity_of(cell)
    if quantity.dimensionality != like.dimensionality:
        remedy = f"tell it in a unit that the box counts it in: it holds {cell}"
        raise AmountError(f"{shown(said)} can't be set against {shown(cell)}", remedy)
    return exactly(float(quantity.to(like.units).magnitude))


def _written(number: Decimal, cell: str) -> Stock:
    """Return a number in the unit of a cell, told as can be measured, with its decimal sign."""
    match = _UNIT.search(cell)
    unit = match[0].strip() if match else ""
    exact = max(Decimal(0), number)
    told = told_amount(measurable(exact, unit), unit)
    return Stock(told.replace(".", ",", 1) if _DECIMAL_COMMA.search(cell) else told, exact)


def told_amount(number: Decimal, unit: str) -> str:
    """Return a number with its unit; pieces stand in the singular or the plural.

    >>> [told_amount(Decimal(number), unit)
    ...  for number, unit in (("1.0", "feathers"), ("2", "pinch"), ("0.50", "m"))]
    ['1 feather', '2 pinches', '0.5 m']
    """
    quantity = quantity_of(f"1 {unit}")
    if quantity.check("[piece]") or unit.startswith("pinch"):
        bare = unit.removesuffix("es") if unit.endswith("ches") else unit.removesuffix("s")
        plural = f"{bare}es" if bare.endswith("ch") else f"{bare}s"
        unit = bare if number == 1 else plural
    return f"{number_words(number)} {unit}"


def with_unit(said: str, cell: str) -> str:
    """Return what was said with the unit of a cell where it says a bare number.

    >>> with_unit("2", "25 feathers"), with_unit("2 g", "25 feathers")
    ('2 feathers', '2 g')
    """
    match = _UNIT.search(cell)
    is_bare = _BARE.fullmatch(said.strip()) is not None
    return f"{said.strip()} {match[0].strip()}" if is_bare and match else said
