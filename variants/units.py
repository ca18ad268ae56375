"""The one pint registry, and measures that are told in parts of a hook.

Text such as ``9 mm``, ``7/64 in``, ``60 denier`` or ``1.5 gape`` comes in; pint quantities go
out. A length told in *gape*, *shank* or *eye* stays relative until a hook is known. Only plain
numbers, fractions and unit names are read: nothing here evaluates an expression.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from variants.text import printable

if TYPE_CHECKING:
    from pint import Quantity, UnitRegistry

#: Definitions, in pint's own format. Sources: metre, gram, inch (25.4 mm exactly, since 1959);
#: tex and denier by ISO 1144 (g per km, g per 9 km); counts and pinches: see below.
DEFINITIONS = """
milli- = 1e-3 = m-
centi- = 1e-2 = c-
kilo- = 1e3 = k-
deci- = 1e-1 = d-
meter = [length] = m = metre = meters = metres
gram = [mass] = g = grams
inch = 0.0254 meter = in = inches
foot = 12 inch = ft = feet
yard = 3 foot = yd = yards
ounce = 28.349523125 gram = oz = ounces
tex = 1e-3 gram / meter
dtex = 1e-4 gram / meter
denier = 1 / 9000 gram / meter = den
gape = [gape] = gapes
shank = [shank] = shanks
eye = [eye] = eyes
piece = [piece] = pieces
feather = piece = feathers
hook = piece = hooks
pair = piece = pairs
bead = piece = beads
plume = piece = plumes
strand = piece = strands
skin = piece = skins
pinch = 0.05 gram = pinches
"""
# A pinch of dubbing, as much as two fingers take up: 0.05 g, common practice (no source).

HOOK_UNITS = ("gape", "shank", "eye")
#: Prefixes belong to metric units alone: pint would read "min" as a thousandth of an inch.
_PREFIXED = {
    "meter": ("milli", "centi", "kilo"),
    "metre": ("milli", "centi", "kilo"),
    "meters": ("milli", "centi", "kilo"),
    "metres": ("milli", "centi", "kilo"),
    "m": ("m", "c", "k"),
    "gram": ("milli", "kilo"),
    "grams": ("milli", "kilo"),
    "g": ("m", "k"),
}

_NUMBER = r"(?:[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_QUANTITY = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>[A-Za-z]+)\s*")
_RANGE = re.compile(
    rf"\s*(?P<low>{_NUMBER})\s*(?:-|–|to)\s*(?P<high>{_NUMBER})\s*(?P<unit>[A-Za-z]+)\s*"
)
_BARE = re.compile(rf"\s*{_NUMBER}(?:\s*(?:-|–|to)\s*{_NUMBER})?\s*")
_NEGATIVE = re.compile(r"\s*[-−–]\s*\.?[0-9]")
_LONGEST_TEXT = 60


class UnitError(ValueError):
    """A text is not a measure that Flykin knows; the message says why.

    Attributes
    ----------
    unit : str
        The unit that is not known; empty when something else is wrong.
    """

    def __init__(self, problem: str, unit: str = "") -> None:
        super().__init__(problem)
        self.unit = unit


@cache
def registry() -> UnitRegistry[float]:
    """Return the registry that every quantity of Flykin belongs to.

    Pint's own default registry is not loaded: these definitions start a hundred times faster.
    """
    import pint

    made: UnitRegistry[float] = pint.UnitRegistry(None)
    made.load_definitions(DEFINITIONS.strip().splitlines())
    return made


@cache
def unit_names() -> tuple[str, ...]:
    """Return every name of a unit that a file may use, for messages and completion."""
    names: list[str] = []
    for line in DEFINITIONS.strip().splitlines():
        name, _meaning, *others = (word.strip() for word in line.split("="))
        if not name.endswith("-"):
            # "feather = piece" means another unit; "= feathers" after it, another name of this one.
            names += [word for word in (name, *others) if word.isalpha()]
    names += [f"{prefix}{unit}" for unit, prefixes in _PREFIXED.items() for prefix in prefixes]
    return tuple(dict.fromkeys(names))


@cache
def _known_units() -> frozenset[str]:
    return frozenset(unit_names())


def _number(text: str) -> float:
    try:
        return float(sum(Fraction(word) for word in text.split()))
    except ZeroDivisionError:
        raise UnitError(f"'{text}' divides by zero") from None


def _quantity(number: str, unit: str) -> Quantity[float]:
    if unit not in _known_units():
        raise UnitError(f"'{unit}' is not a unit that Flykin knows", unit)
    made: Quantity[float] = registry().Quantity(_number(number), unit)
    return made


def _why_not(text: str) -> UnitError:
    """Return what is wrong with a text that is no measure."""
    start = text[:_LONGEST_TEXT].strip()
    shown = f"'{printable(start)}…'" if len(text) > _LONGEST_TEXT else f"'{printable(start)}'"
    if len(text) <= _LONGEST_TEXT and _BARE.fullmatch(text):
        return UnitError(f"{shown} has no unit")
    if _NEGATIVE.match(text):
        return UnitError(f"{shown} is less than nothing")
    return UnitError(f"{shown} is not a number with a unit")


def parse_quantity(text: str) -> Quantity[float]:
    """Read one measure with its unit.

    Parameters
    ----------
    text : str
        A decimal number or a fraction and a unit: ``"9 mm"``, ``"1 1/4 in"``, ``"1.5 gape"``.

    Raises
    ------
    UnitError
        When the text is no such measure.

    Examples
    --------
    >>> f"{parse_quantity('7/64 in').to('mm').magnitude:.4f}"
    '2.7781'
    """
    match = _QUANTITY.fullmatch(text) if len(text) <= _LONGEST_TEXT else None
    if match is None:
        raise _why_not(text)
    return _quantity(match["number"], match["unit"])


def parse_range(text: str) -> tuple[Quantity[float], Quantity[float]]:
    """Read ``"6-8 mm"``, or a single measure as a range of no width.

    Raises
    ------
    UnitError
        When the text is neither, or the range runs backwards.
    """
    match = _RANGE.fullmatch(text) if len(text) <= _LONGEST_TEXT else None
    if match is None:
        single = parse_quantity(text)
        return single, single
    low = _quantity(match["low"], match["unit"])
    high = _quantity(match["high"], match["unit"])
    if low > high:
        raise UnitError(f"'{text.strip()}' runs backwards: the smaller measure comes first")
    return low, high


def millimetres(quantity: Quantity[float], hook_mm: Mapping[str, float] | None = None) -> float:
    """Return a length in millimetres, resolving gape, shank and eye on a hook.

    Parameters
    ----------
    quantity : pint.Quantity
        A length, absolute or in parts of a hook.
    hook_mm : mapping, optional
        ``{"gape": mm, "shank": mm, "eye": mm}`` of the hook at hand.

    Raises
    ------
    UnitError
        When the quantity is no length, or is told in parts of a hook and no hook is given.
    """
    for name in HOOK_UNITS:
        if quantity.check(f"[{name}]"):
            if hook_mm is None:
                raise UnitError(f"'{quantity}' is told in parts of a hook, and no hook is given")
            return float(quantity.magnitude) * hook_mm[name]
    if not quantity.check("[length]"):
        raise UnitError(f"'{quantity}' is not a length")
    return float(quantity.to("mm").magnitude)


def denier(quantity: Quantity[float]) -> float:
    """Return a linear density in denier (grams per 9000 m).

    Raises
    ------
    UnitError
        When the quantity is no linear density.
    """
    if not quantity.check("[mass] / [length]"):
        raise UnitError(f"'{quantity}' is not a thread weight such as '70 denier' or '8 tex'")
    return float(quantity.to("denier").magnitude)


def awg_diameter_mm(gauge: int) -> float:
    """Return the diameter of a wire of the American gauge, in mm.

    Source: ASTM B258, d = 0.127 mm x 92^((36 - n) / 39).

    Examples
    --------
    >>> awg_diameter_mm(36)
    0.127
    """
    return float(0.127 * 92.0 ** ((36 - gauge) / 39))


def thread_diameter_mm(denier_value: float, density_g_cm3: float, packing: float = 1.0) -> float:
    """Return the diameter of a round thread from its weight by length.

    Parameters
    ----------
    denier_value : float
        Linear density in denier.
    density_g_cm3 : float
        Density of the fibre.
    packing : float
        Share of the cross-section that is fibre; 1 for solid.

    Notes
    -----
    Area = mass per length / density; d = sqrt(4 area / (pi packing)).
    """
    area_mm2 = denier_value / 9000.0 / density_g_cm3
    return float((4.0 * area_mm2 / (math.pi * packing)) ** 0.5)
