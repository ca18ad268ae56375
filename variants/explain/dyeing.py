"""What a dye does to a ground, and the colours that dyers and makers give stuff.

Shades and tables come in; the colour that a dyed ground shows, and the colours that stuff is
commonly sold or made in, go out. What getting them costs is not decided here.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

from variants.cielab import linear_of
from variants.model import Colour, Material
from variants.rulebook import CLEAR, IRIDESCENT, METALLIC, SOLID, Likeness, delta_e, lab

#: Classes of stuff that people spin or draw, whatever it is made of (common practice).
_SPUN = frozenset({"yarn", "floss", "thread", "chenille"})
#: Stands among a material's colours for any that dye or make gives.
ANY = "any"
#: Share by which a dyed shade may pass its ground in red, green or blue: shades are judged by eye,
#: and fluorescent dyes give back a little more than they get.
_BRIGHTER = 0.15
#: Markings that no dye gives or covers: no colour, metal, a play of colours.
UNDYED = frozenset({CLEAR, METALLIC, IRIDESCENT})
#: What bleach leaves of brown and grey hair and fur: the id of a colour.
BLEACHED = "bleached"
#: A colour in which so many materials are sold is a dyer's colour.
COMMON = 4


def can_dye(ground: str, wanted: str) -> bool:
    """Tell whether a ground can be dyed a shade: a dye takes light away and gives none.

    Parameters
    ----------
    ground, wanted : str
        sRGB values ``#RRGGBB``.

    Notes
    -----
    The wanted shade may not be lighter (CIELAB L*) than the ground, nor give back more of red,
    green or blue (linear light) than the ground does, with a share of `_BRIGHTER` for shades
    judged by eye. That a dye only absorbs is the Beer-Lambert law; the share is common practice.

    Examples
    --------
    >>> can_dye("#F4F2EC", "#6E7239"), can_dye("#6A4B31", "#F4F2EC")
    (True, False)
    """
    if lab(wanted)[0] > lab(ground)[0]:
        return False
    light = zip(linear_of(ground), linear_of(wanted), strict=True)
    return all(given <= had * (1.0 + _BRIGHTER) for had, given in light)


def dye_over(ground: Colour | None, wanted: Colour, shade: str) -> Colour:
    """Return a shade laid over a ground, whose darker marks show through; paler ones are gone."""
    under = ground.id if ground else "undyed"
    how = "bleached, then dyed" if under == BLEACHED else "dyed"
    if ground is None or ground.marking == SOLID:
        place = wanted.hexes.index(shade)
        name = f"{how} {wanted.name}" if len(wanted.hexes) == 1 else f"{how} as {wanted.name}"
        if place:
            name += f", shade {place + 1}"
        return Colour(
            id=f"{wanted.id} dyed on {under}" + (f" {place + 1}" if place else ""),
            name=name,
            family=wanted.family,
            hexes=(shade,),
        )
    level = lab(shade)[0]
    marks = tuple(mark for mark in ground.hexes if lab(mark)[0] < level)
    return Colour(
        id=f"{wanted.id} dyed on {under}",
        name=f"{ground.name} dyed {wanted.name}",
        family=wanted.family,
        marking=ground.marking if marks else SOLID,
        hexes=(shade, *marks)[:3],
        cover=ground.cover if ground.hexes[0] == find_lightest_shade(ground) else (),
    )


def find_lightest_shade(colour: Colour) -> str:
    """Return the lightest of a colour's shades."""
    return max(colour.hexes, key=lambda shade: lab(shade)[0])


def find_nearest_made(likeness: Likeness, wanted: Colour) -> list[Colour]:
    """Return the colour that stuff is made in nearest each shade of a colour."""
    colours = makers_colours(likeness)
    nearest = [
        min(colours, key=lambda one: (delta_e(one.hexes[0], shade), one.id))
        for shade in wanted.hexes
    ]
    return list(dict.fromkeys(nearest))


def plain_colours(likeness: Likeness) -> Iterator[Colour]:
    """Yield the colours that stuff is dyed or made in and commonly sold in."""
    sold = count_sold(likeness)
    return (one for one in makers_colours(likeness) if sold[one.id] >= COMMON)


@lru_cache(maxsize=4)
def makers_colours(likeness: Likeness) -> tuple[Colour, ...]:
    """Return the colours of one shade that stuff is dyed or made in, as their table says."""
    return tuple(
        one for one in likeness.trade.colours.values() if one.is_made and len(one.hexes) == 1
    )


@lru_cache(maxsize=4)
def count_sold(likeness: Likeness) -> Counter[str]:
    """Return how many materials come in each colour."""
    return Counter(name for one in likeness.trade.materials.values() for name in one.colours)


def animal_of(material: Material) -> str:
    """Return the last word for what stuff comes from: ``ruffed grouse, back`` is ``grouse``.

    What is spun or drawn is told by its class: a yarn is asked for before its fleece.
    """
    if material.kind in _SPUN:
        return material.kind
    words = re.split(r"[,;(]", material.comes_from)[0].split()
    return words[-1].lower() if words else material.id
