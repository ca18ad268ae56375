"""How far one colour of the tables stands from another: shade by CIEDE2000, and marking.

Colours come in as the tables state them; numbers go out. A feather of several colours is compared
shade by shade, its main shade counting most. What a difference costs on a fly is not decided here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache, lru_cache
from operator import mul

from variants.cielab import Triple, ciede2000, lab_of
from variants.model import Colour

#: How much of a feather each of its shades covers, main shade first, in hundredths, where its
#: marking does not say.
_SHARES: Mapping[int, tuple[int, ...]] = {1: (100,), 2: (60, 40), 3: (50, 30, 20)}
_WHOLE = 100
#: Decimals of a CIEDE2000 difference, as in the published pairs.
_DECIMALS = 4
#: Ids of the markings that code has to know: one colour all over, fibres of several, and those that
#: no dye gives.
SOLID, MIXED = "solid", "mixed"
CLEAR, METALLIC, IRIDESCENT = "clear", "metallic", "iridescent"
#: Joins the names of colours that go in together.
TOGETHER = " + "


@lru_cache(maxsize=4096)
def lab(shade: str) -> Triple:
    """Return CIELAB (D65) of an sRGB value ``#RRGGBB``."""
    return lab_of(shade)


@lru_cache(maxsize=32768)
def delta_e(one: str, other: str) -> float:
    """Return the CIEDE2000 difference of two sRGB values ``#RRGGBB``, to four decimals.

    >>> delta_e("#7A3A20", "#7a3a20")
    0.0
    """
    one, other = one.lower(), other.lower()
    if one == other:
        return 0.0
    return round(ciede2000(lab(one), lab(other)), _DECIMALS)


def shares(colour: Colour) -> tuple[tuple[str, int], ...]:
    """Return the shades of a colour with the hundredths of the feather that each covers.

    Notes
    -----
    As its marking tells (``rules/markings.tsv``); else 60 and 40, or 50, 30 and 20, which are
    common practice for "main shade first": no measurement of feathers was found.
    """
    shades = colour.hexes[:3]
    covers = colour.cover if len(colour.cover) == len(shades) else _SHARES.get(len(shades), ())
    return tuple(zip(shades, covers, strict=True))


def colour_difference(
    wanted: Colour, found: Colour, cost: Callable[[float], float] = float
) -> float | None:
    """Return how far two colours differ, each shade matched with its nearest; None when unknown.

    Parameters
    ----------
    wanted, found : Colour
    cost : callable
        What a CIEDE2000 difference counts for; by default the difference itself.

    Notes
    -----
    The least cost of turning one feather's shades into the other's, share by share: the earth
    mover's distance (Y. Rubner, C. Tomasi and L. J. Guibas, International Journal of Computer
    Vision 40, 2000), a transportation problem. A least one stands at a vertex; every vertex comes
    of filling cells in some order, and with three shades a side they are few.
    """
    if len(wanted.hexes) == 1 == len(found.hexes):
        # There is one plan: all of the one shade goes into the other. Most colours are so.
        return _WHOLE * cost(delta_e(wanted.hexes[0], found.hexes[0])) / _WHOLE
    one, other = shares(wanted), shares(found)
    if not one or not other:
        return None
    costs = [cost(delta_e(a, b)) for a, _ in one for b, _ in other]
    plans = _plans(tuple(share for _, share in one), tuple(share for _, share in other))
    least: float = min([sum(map(mul, plan, costs)) for plan in plans])
    return least / _WHOLE


@cache
def _plans(supply: tuple[int, ...], demand: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """Return the vertices of a transportation problem: what each cell moves, row after row."""
    if not any(supply):
        return ((0,) * len(supply) * len(demand),)
    plans = set()
    for row, left in enumerate(supply):
        for column, asked in enumerate(demand):
            moved = min(left, asked)
            if moved:
                rests = _plans(
                    (*supply[:row], left - moved, *supply[row + 1 :]),
                    (*demand[:column], asked - moved, *demand[column + 1 :]),
                )
                cell = row * len(demand) + column
                plans |= {(*rest[:cell], rest[cell] + moved, *rest[cell + 1 :]) for rest in rests}
    return tuple(sorted(plans))


def marking_difference(
    wanted: Colour, found: Colour, distances: Mapping[tuple[str, str], float]
) -> float:
    """Return how unlike two colours' markings are, 0 to 1; pairs no table states are 1 apart."""
    if wanted.marking == found.marking:
        return 0.0
    return distances.get((wanted.marking, found.marking), 1.0)


def wind_together(colours: Sequence[Colour]) -> Colour:
    """Return how two or more colours look when feathers or furs of them are tied as one.

    The first colour's main shade stays the main one; a single marked feather keeps its marking,
    and plain ones of two colours look mixed.
    """
    if len(colours) == 1:
        return colours[0]
    markings = sorted({colour.marking for colour in colours} - {SOLID})
    unlike = len({colour.id for colour in colours}) > 1
    deepest = max(len(colour.hexes) for colour in colours)
    hexes = [
        colour.hexes[depth]
        for depth in range(deepest)
        for colour in colours
        if depth < len(colour.hexes)
    ]
    components = [name for colour in colours for name in (colour.components or (colour.id,))]
    return Colour(
        id=TOGETHER.join(colour.id for colour in colours),
        name=TOGETHER.join(colour.name for colour in colours),
        family=" + ".join(dict.fromkeys(colour.family for colour in colours if colour.family)),
        marking=markings[0] if len(markings) == 1 else MIXED if unlike else SOLID,
        components=tuple(dict.fromkeys(components)),
        hexes=tuple(dict.fromkeys(hexes)),
    )
