"""The cells of someone's list normalised to what a box writes: sizes, measures, amounts, prices.

A text comes in as it stands in a list; what a box would write goes out, with a doubt where it was
guessed at. What is not understood is handed on as it is, for the reader of boxes to refuse.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from variants.box.amounts import format_amount
from variants.box.rounding import is_whole_unit
from variants.box.sold_as import SoldAs, convert_sold_amount
from variants.model import Material
from variants.reading.sheets import use_decimal_point
from variants.units import unit_names

_BARE = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:\s*(?:-|–|to)\s*[0-9]+(?:\.[0-9]+)?)?")
_PRICE = re.compile(r"[^\d.,]*([0-9][0-9.,]*)[^\d.,]*")
_SIZE = r"([0-9]{1,2})"
_DATE = re.compile(rf"(?:[0-9]{{4}}[-/]{_SIZE}[-/]{_SIZE}|{_SIZE}[/.]{_SIZE}[/.][0-9]{{4}})")
_MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
_DAY_MONTH = re.compile(
    rf"(?:{_SIZE}[-. ](?P<after>{'|'.join(_MONTHS)})[a-z]*|"
    rf"(?P<before>{'|'.join(_MONTHS)})[a-z]*[-. ]{_SIZE})",
    re.IGNORECASE,
)
A_DATE = "a spreadsheet made a date of it"


def normalize_sizes(text: str) -> tuple[str, str]:
    """Return hook sizes as a box writes them, and a doubt.

    >>> normalize_sizes("#12 to #16"), normalize_sizes("12/14"), normalize_sizes("14-Dec")
    (('12-16', ''), ('12, 14', ''), ('12-14', 'a spreadsheet made a date of it'))
    """
    ends = _date_ends(text.strip())
    if ends is not None:
        low, high = sorted(ends)
        return f"{low}-{high}", A_DATE
    plainly = re.sub(r"(?i)#|\bsizes?\b|\bnos?\.?(?=\s*[0-9])", "", text).strip()
    plainly = re.sub(r"\s*(?:-|–|—|\bto\b)\s*", "-", plainly)
    if not re.search(r"/0", plainly):
        plainly = re.sub(r"\s*(?:[/+&;,]|\band\b)\s*", ", ", plainly)
    range_ = re.fullmatch(r"([0-9]{1,2})-([0-9]{1,2})", plainly)
    if range_ and int(range_[1]) > int(range_[2]):
        plainly = f"{range_[2]}-{range_[1]}"
    return plainly, ""


def _date_ends(text: str) -> tuple[int, int] | None:
    match = _DATE.fullmatch(text.split(" ")[0])
    if match:
        first, second = (int(one) for one in match.groups() if one)
        return first, second
    named = _DAY_MONTH.fullmatch(text)
    if named:
        month = _MONTHS.index((named["after"] or named["before"]).lower()) + 1
        day = next(int(one) for one in (named[1], named[4]) if one)
        return day, month
    return None


def normalize_measure(text: str, unit: str) -> str:
    """Return a length or thickness with its unit, which the header may have stated.

    >>> normalize_measure("6,5 - 8", "mm"), normalize_measure("9mm", "")
    ('6.5 - 8 mm', '9mm')
    """
    told = use_decimal_point(text.strip())
    return f"{told} {unit}" if unit and _BARE.fullmatch(told) else told


def normalize_amount(
    text: str, unit: str, material: Material | None, table: Sequence[SoldAs]
) -> tuple[str, str]:
    """Return an amount with its unit, and a doubt.

    Parameters
    ----------
    text : str
    unit : str
        That another column or the header stated.
    material : Material or None
    table : sequence of SoldAs
    """
    told = use_decimal_point(text.strip())
    unit = unit.strip().lower()
    if not told:
        return "", ""
    doubt = ""
    if _BARE.fullmatch(told):
        if not unit and material is not None:
            unit = _usual_unit(material, table)
            doubt = f"no unit: taken as {unit}" if unit else ""
        is_one = told.replace(".", "", 1).isdigit() and unit in unit_names()
        told = format_amount(Decimal(told), unit) if is_one else f"{told} {unit}".strip()
    else:
        number, _, word = told.rpartition(" ")
        if number and word.lower() in unit_names():
            told = f"{number} {word.lower()}"
    if material is not None:
        found = convert_sold_amount(told, material, table)
        if found.sold_as is not None:
            doubt = f"“{found.said}”, estimated: {found.sold_as.says} [{found.sold_as.source}]"
        told = found.amount
    return told, doubt


def _usual_unit(material: Material, table: Sequence[SoldAs]) -> str:
    """Return the pieces that such stuff is counted in, if a bare number can mean nothing else.

    One hook is a hook; one hen cape is no feather, and one marabou may be a packet.
    """
    for sold_as in table:
        if material.kind in sold_as.classes and is_whole_unit(sold_as.unit):
            return sold_as.unit
    return ""


def normalize_price(text: str) -> str:
    """Return a price without its currency.

    >>> normalize_price("£3.50"), normalize_price("3,50 €")
    ('3.50', '3.50')
    """
    match = _PRICE.fullmatch(text.strip())
    if match is None:
        return text.strip()
    told = match[1].rstrip(".,")
    return use_decimal_point(told) if "." not in told else told.replace(",", "")
