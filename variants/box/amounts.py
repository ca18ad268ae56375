"""Arithmetic on the amounts of a box, cell by cell: ``25 feathers`` less ``2 feathers``.

The unit and the decimal sign of the cell stay. What is written is rounded to what can be measured;
the exact amount goes along with it, into the journal.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from variants.box.rounding import format_number, round_to_measurable, to_decimal
from variants.reading.sheets import use_decimal_point
from variants.text import shown
from variants.units import UnitError, parse_quantity

if TYPE_CHECKING:
    from pint import Quantity

#: What takes all that is left.
ALL = "all"
_UNIT = re.compile(r"[A-Za-z]+\s*$")
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[0-9]+/[0-9]+")
_DECIMAL_COMMA = re.compile(r"[0-9],[0-9]")


class AmountError(ValueError):
    """A calculation that makes no sense.

    Attributes
    ----------
    remedy : str
        What would be right.
    """

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.remedy = remedy


def parse_cell(cell: str) -> Quantity[float]:
    """Return what an amount cell holds.

    Raises
    ------
    AmountError
        When it is no measure.
    """
    try:
        return parse_quantity(use_decimal_point(cell))
    except UnitError as problem:
        remedy = "write a number and a unit, such as 3 feathers, 2 m, 0.5 g or 1 pinch"
        raise AmountError(str(problem), remedy) from None


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of an item: rounded in its cell, and exact.

    Attributes
    ----------
    cell : str
        Such as ``1.2 g``.
    exact : Decimal
        In the unit of the cell: ``1.199648833``.
    """

    cell: str
    exact: Decimal


def parse_amount(cell: str, exact: Decimal | None = None) -> Amount:
    """Return the amount in a cell; the exact one where it is known.

    Raises
    ------
    AmountError
        When it is no measure.
    """
    quantity = parse_cell(cell)
    return Amount(cell, to_decimal(float(quantity.magnitude)) if exact is None else exact)


def subtract(amount: Amount, taken: str) -> Amount:
    """Return an amount after something was taken; ``all`` takes all.

    Raises
    ------
    AmountError
        When less is left, or the two can't be compared.

    Examples
    --------
    >>> [subtract(parse_amount(cell), taken).cell for cell, taken in
    ...  (("0.5 g", "1 pinch"), ("2 hooks", "1 hook"), ("0,5 g", "0.2 g"), ("2 m", "13 cm"))]
    ['0.45 g', '1 hook', '0,3 g', '1.9 m']
    """
    if taken.strip().lower() == ALL:
        return _round_amount(Decimal(0), amount.cell)
    taken = with_unit(taken, amount.cell)
    wanted = _convert(taken, amount.cell)
    # Who takes what the cell tells takes all of it.
    if wanted > max(amount.exact, parse_amount(amount.cell).exact):
        raise AmountError(
            f"{shown(taken)} is more than the {shown(amount.cell)} left",
            "take less, or write 'all'",
        )
    return _round_amount(amount.exact - wanted, amount.cell)


def add(amount: Amount | None, came: str) -> Amount:
    """Return an amount after something was bought; None before where none was noted.

    Raises
    ------
    AmountError
        When the two can't be added.

    Examples
    --------
    >>> add(parse_amount("1 hook"), "25 hooks").cell, add(None, "3 m").cell
    ('26 hooks', '3 m')
    """
    if amount is None:
        return parse_amount(came.strip())
    return _round_amount(
        amount.exact + _convert(with_unit(came, amount.cell), amount.cell), amount.cell
    )


def subtract_number(amount: Amount, number: float) -> Amount:
    """Return an amount less a number of its own units, never below nothing.

    >>> subtract_number(parse_amount("12 feathers"), 8.6).cell
    '3.5 feathers'
    """
    return _round_amount(amount.exact - to_decimal(number), amount.cell)


def _convert(said: str, cell: str) -> Decimal:
    """Return what was said in the unit of a cell."""
    quantity, like = parse_cell(said), parse_cell(cell)
    if quantity.dimensionality != like.dimensionality:
        remedy = f"tell it in a unit that the box counts it in: it holds {cell}"
        raise AmountError(f"{shown(said)} can't be set against {shown(cell)}", remedy)
    return to_decimal(float(quantity.to(like.units).magnitude))


def _round_amount(number: Decimal, cell: str) -> Amount:
    """Return a number in the unit of a cell, told as can be measured, with its decimal sign."""
    match = _UNIT.search(cell)
    unit = match[0].strip() if match else ""
    exact = max(Decimal(0), number)
    told = format_amount(round_to_measurable(exact, unit), unit)
    return Amount(told.replace(".", ",", 1) if _DECIMAL_COMMA.search(cell) else told, exact)


def format_amount(number: Decimal, unit: str) -> str:
    """Return a number with its unit; pieces stand in the singular or the plural.

    >>> [format_amount(Decimal(number), unit)
    ...  for number, unit in (("1.0", "feathers"), ("2", "pinch"), ("0.50", "m"))]
    ['1 feather', '2 pinches', '0.5 m']
    """
    quantity = parse_cell(f"1 {unit}")
    if quantity.check("[piece]") or unit.startswith("pinch"):
        bare = unit.removesuffix("es") if unit.endswith("ches") else unit.removesuffix("s")
        plural = f"{bare}es" if bare.endswith("ch") else f"{bare}s"
        unit = bare if number == 1 else plural
    return f"{format_number(number)} {unit}"


def with_unit(said: str, cell: str) -> str:
    """Return what was said with the unit of a cell where it says a bare number.

    >>> with_unit("2", "25 feathers"), with_unit("2 g", "25 feathers")
    ('2 feathers', '2 g')
    """
    match = _UNIT.search(cell)
    is_bare = _BARE.fullmatch(said.strip()) is not None
    return f"{said.strip()} {match[0].strip()}" if is_bare and match else said
