"""In which colours stuff is to be had: as it comes, sold dyed, dyed at home, two of it together.

A dye darkens and never makes lighter, what is bleached first is told so, and a barred feather
stays barred under it; what takes no dye comes in the colours that it is made in. Materials and the
colours wanted come in, shades on offer go out; how near they are is judged elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from variants.explain.dyeing import (
    ANY,
    BLEACHED,
    COMMON,
    UNDYED,
    can_dye,
    count_sold,
    dye_over,
    find_lightest_shade,
    find_nearest_made,
)
from variants.model import Box, Colour, Item, Material, Term
from variants.rulebook import METALLIC, SOLID, TOGETHER, Likeness, delta_e, wind_together

#: Classes of stuff that are bleached before they are dyed pale (common practice).
_BLEACHED = frozenset({"hair", "fur dubbing"})


@dataclass(frozen=True, slots=True)
class Shade:
    """A colour on offer, what getting it costs, and how it looks when tied.

    Attributes
    ----------
    colours : tuple of Colour
        One, or two that go in together.
    terms : tuple of Term
        What it takes to get it so.
    items : tuple of Item
        What the box holds of it.
    """

    colours: tuple[Colour, ...]
    terms: tuple[Term, ...] = ()
    items: tuple[Item, ...] = ()

    @property
    def seen(self) -> Colour:
        """The colour that is seen on the fly."""
        return wind_together(self.colours)


def find_shades(
    likeness: Likeness,
    material: Material,
    wanted: tuple[Colour, ...],
    box: Box | None = None,
    *,
    dyed_as_sold: bool = False,
) -> list[Shade]:
    """Return the colours in which a material is to be had.

    Parameters
    ----------
    likeness : Likeness
    material : Material
    wanted : tuple of Colour
        What a dye or a mix should come near.
    box : Box or None
        Only what it holds and has left; without one, all that is sold.
    dyed_as_sold : bool
        Whether the colours wanted are dyer's colours, in which dyed stuff is sold; the natural
        shade of other stuff has to be dyed on purpose.
    """
    if box is None:
        single = _find_in_shops(likeness, material, wanted, dyed_as_sold)
    else:
        single = _find_in_box(material, box)
    return [*single, *_mix(likeness, wanted, single)]


def _find_in_box(material: Material, box: Box) -> list[Shade]:
    held: dict[str, list[Item]] = {}
    for item in box.items:
        if item.material.id == material.id and not item.is_gone:
            held.setdefault(item.colour.id if item.colour else "", []).append(item)
    return [
        Shade((items[0].colour,) if items[0].colour else (), (), tuple(items))
        for items in held.values()
    ]


def _find_in_shops(
    likeness: Likeness, material: Material, wanted: tuple[Colour, ...], dyed_as_sold: bool
) -> list[Shade]:
    known = likeness.trade.colours
    own = [known[name] for name in material.colours if name in known]
    shades = [Shade((colour,)) for colour in own]
    others = [one for one in wanted if one.id not in material.colours and one.hexes]
    if material.dyes_well:
        for colour in others:
            no_dye = colour.marking in UNDYED
            for dye in find_nearest_made(likeness, colour)[:1] if no_dye else [colour]:
                if dye.id not in material.colours:
                    shades += _dye(likeness, material, own, dye, dyed_as_sold)
    elif ANY in material.colours:
        terms = (_term(likeness, "dyed", "sold in that colour"),)
        for colour in others:
            shades += [Shade((sold,), terms) for sold in _find_sold(likeness, own, colour)]
    return shades or [Shade(())]


def _term(likeness: Likeness, scale: str, says: str) -> Term:
    return Term("dye", likeness.thousandths(scale), says, likeness.tables.scale_sources[scale])


def _find_sold(likeness: Likeness, own: list[Colour], wanted: Colour) -> Iterator[Colour]:
    """Yield the colours that come nearest a wanted one, of those that stuff is made in.

    What is spun, drawn or enamelled comes in colours and is not dyed: in common metal's where it is
    metal anyhow, never in a natural stuff's own, and never clear unless its row says so.
    """
    sold = count_sold(likeness)
    is_metal = wanted.marking == METALLIC and any(one.marking == METALLIC for one in own)
    if is_metal and sold[wanted.id] >= COMMON:
        yield wanted
        return
    taken = {one.id for one in own}
    yield from (one for one in find_nearest_made(likeness, wanted) if one.id not in taken)


def _dye(
    likeness: Likeness,
    material: Material,
    own: list[Colour],
    wanted: Colour,
    dyed_as_sold: bool,
) -> Iterator[Shade]:
    """Yield the wanted shade on each of a material's markings that is pale enough to take it.

    Plain stuff that is sold dyed is offered in each shade of a colour of several, to be mixed.
    Brown and grey hair and fur, too dark as they grow, are bleached first, and that is told.
    """
    is_sold = ANY in material.colours
    scale, says = ("dyed", "dyed") if is_sold and dyed_as_sold else ("dye_it", "has to be dyed")
    terms: tuple[Term, ...] = (_term(likeness, scale, says),)
    grounds = _find_grounds(own, wanted.hexes[0], is_sold)
    if not grounds and material.kind in _BLEACHED:
        bleached = likeness.trade.colours[BLEACHED]
        if can_dye(bleached.hexes[0], wanted.hexes[0]):
            grounds = {SOLID: bleached}
            terms = (
                _term(likeness, scale, "bleached, then dyed"),
                Term(
                    "bleach",
                    likeness.thousandths("bleach"),
                    "bleached first",
                    likeness.tables.scale_sources["bleach"],
                ),
            )
    for marking, ground in grounds.items():
        yield Shade((dye_over(ground, wanted, wanted.hexes[0]),), terms)
        for shade in wanted.hexes[1:] if marking == SOLID and is_sold else ():
            if ground is None or can_dye(find_lightest_shade(ground), shade):
                yield Shade((dye_over(ground, wanted, shade),), terms)


def _find_grounds(own: list[Colour], shade: str, is_sold: bool) -> dict[str, Colour | None]:
    """Return the first of a material's colours of each marking that takes a shade.

    Stuff that states no colour of its own and is sold dyed was white.
    """
    grounds: dict[str, Colour | None] = {} if own or not is_sold else {SOLID: None}
    for one in own:
        is_dyed = one.marking not in UNDYED and bool(one.hexes)
        if is_dyed and can_dye(find_lightest_shade(one), shade):
            grounds.setdefault(one.marking, one)
    return grounds


def _mix(
    likeness: Likeness, wanted: tuple[Colour, ...], single: Iterable[Shade]
) -> Iterator[Shade]:
    """Yield two shades together where a colour wanted has several that no single one brings."""
    for colour in wanted if len(wanted) == 1 else ():
        if len(colour.hexes) < 2 or TOGETHER in colour.id:
            continue
        far = likeness.tables.scales["shade"]
        near = [one for one in single if one.colours and _adds_no_shade(one.seen, colour, far)]
        cost, source = likeness.thousandths("mixed"), likeness.tables.scale_sources["mixed"]
        for one, other in combinations(near, 2):
            terms = (*one.terms, *other.terms, Term("mix", cost, "two together", source))
            items = (*one.items[:1], *other.items[:1])
            yield Shade((*one.colours, *other.colours), terms, items)


def _adds_no_shade(colour: Colour, wanted: Colour, far: float) -> bool:
    """Tell whether every shade of a colour is like one of those wanted."""
    return all(
        min(delta_e(shade, other) for other in wanted.hexes) <= far for shade in colour.hexes
    )
