"""Amounts as stuff is sold: a third of a neck, two packets; how much that is taken to be.

``rules/sold-as.tsv`` states for each class of stuff what a neck, a packet or a spool is taken to
hold. The text of an amount comes in; an amount in units of the box goes out, with the row it rests
on, so that the estimate can be told as one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from variants.box.amounts import format_amount
from variants.box.rounding import round_to_measurable, to_decimal
from variants.model import Material, plain
from variants.reading import Faults, Fields, read_table
from variants.units import parse_quantity, unit_names

COLUMNS = ("id", "name", "also", "amount", "classes", "says", "source")
_SHARES = {"half": "1/2", "quarter": "1/4", "third": "1/3", "a": "1", "an": "1", "one": "1"}
_NUMBER = re.compile(
    r"(?P<number>[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?)\s*(?P<rest>.*)"
)
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class SoldAs:
    """What one of a way of selling is taken to hold.

    Attributes
    ----------
    names : frozenset of str
        In plain form.
    name : str
    number, unit : float, str
    classes : frozenset of str
        Of materials it holds for.
    says, source : str
    """

    name: str
    names: frozenset[str]
    number: float
    unit: str
    classes: frozenset[str]
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class SoldAmount:
    """An amount as the box holds it, and the row of the table where it was estimated."""

    amount: str
    said: str
    sold_as: SoldAs | None = None


def read_sold_as(folders: Sequence[Path]) -> tuple[SoldAs, ...]:
    """Read ``sold-as.tsv`` of several rules folders; a later row overrides one of the same id.

    Raises
    ------
    InputError
        With every fault of the tables.
    """
    faults = Faults()
    found: dict[str, SoldAs] = {}
    for folder in folders:
        path = folder / "sold-as.tsv"
        if path.is_file():
            for row in read_table(path, COLUMNS, COLUMNS[:2], faults, tabs=True):
                fields = row.fields(faults)
                sold_as = _sold_as(fields)
                if sold_as:
                    found[fields.text("id", None)] = sold_as
    faults.stop_if_any()
    return tuple(found.values())


def _sold_as(fields: Fields) -> SoldAs | None:
    name, source = fields.text("name", None), fields.text("source", None)
    quantity = fields.quantity("amount", "write a count, a length or a weight, such as 25 hooks")
    if quantity is None:
        return None
    names = (name, *fields.words("also"))
    return SoldAs(
        name=name,
        names=frozenset(plain(one) for one in names),
        number=float(quantity.magnitude),
        unit=fields.text("amount").split()[-1],
        classes=frozenset(fields.words("classes")),
        says=fields.text("says"),
        source=source,
    )


def convert_sold_amount(text: str, material: Material, table: Sequence[SoldAs]) -> SoldAmount:
    """Convert an amount as it is sold to the units of the box.

    Parameters
    ----------
    text : str
        ``1/3 neck``, ``half a saddle``, ``2 packets``; any other amount is left as it is.
    material : Material
        What it is an amount of: a packet of hooks holds other things than one of fur.
    table : sequence of SoldAs
    """
    said = " ".join(text.split())
    count, what = _split_count(said)
    if count is None or not what or what in unit_names():
        return SoldAmount(said, said)
    for sold_as in table:
        if plain(what) in sold_as.names and material.kind in sold_as.classes:
            number = to_decimal(count * sold_as.number)
            # An estimate is no better for half a feather.
            is_whole = is_counted(sold_as.unit)
            number = round(number, 0) if is_whole else round_to_measurable(number, sold_as.unit)
            return SoldAmount(format_amount(number, sold_as.unit), said, sold_as)
    return SoldAmount(said, said)


def is_counted(unit: str) -> bool:
    """Tell whether a unit counts pieces."""
    return bool(parse_quantity(f"1 {unit}").check("[piece]"))


def _split_count(text: str) -> tuple[float | None, str]:
    """Return the number that an amount begins with, and the rest."""
    words = text.lower().split() if len(text) <= _LONGEST else []
    number = Fraction(1)
    is_told = False
    while words and words[0] in _SHARES:
        number *= Fraction(_SHARES[words.pop(0)])
        is_told = True
    if words and words[0] == "of":
        words.pop(0)
    rest = " ".join(words)
    match = _NUMBER.fullmatch(rest)
    if match is None:
        return (float(number), rest) if is_told else (None, rest)
    try:
        told = sum((Fraction(one.replace(",", ".")) for one in match["number"].split()), Fraction())
    except ZeroDivisionError:
        return None, rest
    rest_words = match["rest"].split()
    while rest_words and rest_words[0] in ("a", "of"):
        rest_words.pop(0)
    return float(number * told), " ".join(rest_words)
