"""In which colours stuff is to be had: as it comes, sold dyed, dyed at home, two of it together.

A dye darkens and never bleaches, and a barred feather stays barred under it. Materials and the
colours wanted come in, shades on offer go out; how near they are is judged elsewhere.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from variants.model import Box, Colour, Item, Material, Term
from variants.rulebook.colours import SOLID, TOGETHER, delta_e, lab, wound_together
from variants.rulebook.likeness import Likeness

#: Classes of stuff that people spin or draw, whatever it is made of (common practice).
_SPUN = frozenset({"yarn", "floss", "thread", "chenille"})
ANY = "any"
#: A ground this much darker (CIELAB L*) than a dye still takes it.
_DARKER = 5.0
#: A colour in which so many materials are sold is a dyer's colour.
_COMMON = 4


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
        return wound_together(self.colours)


def shades_on_offer(
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
        single = _in_shops(likeness, material, wanted, dyed_as_sold)
    else:
        single = _in_box(material, box)
    return [*single, *_mixes(likeness, wanted, single)]


def _in_box(material: Material, box: Box) -> list[Shade]:
    held: dict[str, list[Item]] = {}
    for item in box.items:
        if item.material.id == material.id and not item.is_gone:
            held.setdefault(item.colour.id if item.colour else "", []).append(item)
    return [
        Shade((items[0].colour,) if items[0].colour else (), (), tuple(items))
        for items in held.values()
    ]


def _in_shops(
    likeness: Likeness, material: Material, wanted: tuple[Colour, ...], dyed_as_sold: bool
) -> list[Shade]:
    known = likeness.trade.colours
    own = [known[name] for name in material.colours if name in known]
    shades = [Shade((colour,)) for colour in own]
    is_sold = ANY in material.colours
    if is_sold or material.dyes_well:
        terms = (_dye_term(likeness, is_sold and dyed_as_sold),)
        for colour in wanted:
            if colour.id not in material.colours and colour.hexes:
                shades += [Shade((dyed,), terms) for dyed in _dyed(own, colour, is_sold)]
    return shades or [Shade(())]


def _dye_term(likeness: Likeness, is_sold: bool) -> Term:
    scale, says = ("dyed", "dyed") if is_sold else ("dye_it", "has to be dyed")
    return Term("dye", likeness.thousandths(scale), says, likeness.tables.scale_sources[scale])


def _dyed(own: list[Colour], wanted: Colour, is_sold: bool) -> Iterator[Colour]:
    """Yield the wanted shade on each of a material's markings that is pale enough to take it.

    Plain stuff that is sold dyed is offered in each shade of a colour of several, to be mixed.
    """
    by_marking: dict[str, Colour | None] = {} if own or not is_sold else {SOLID: None}
    for one in own:
        if one.hexes and _takes(one, wanted):
            by_marking.setdefault(one.marking, one)
    for marking, ground in by_marking.items():
        yield _on(ground, wanted, wanted.hexes[0])
        if marking == SOLID and is_sold:
            for shade in wanted.hexes[1:]:
                yield _on(ground, wanted, shade)


def _takes(ground: Colour, wanted: Colour) -> bool:
    """Tell whether a ground is as light as the shade wanted; a little darker passes."""
    lightest = max(lab(shade)[0] for shade in ground.hexes)
    return lightest >= lab(wanted.hexes[0])[0] - _DARKER


def _on(ground: Colour | None, wanted: Colour, shade: str) -> Colour:
    """Return a shade laid over a ground, whose darker marks show through."""
    under = ground.id if ground else "undyed"
    if ground is None or ground.marking == SOLID:
        place = wanted.hexes.index(shade)
        name = f"dyed {wanted.name}" if len(wanted.hexes) == 1 else f"dyed as {wanted.name}"
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
        marking=ground.marking,
        hexes=(shade, *marks)[:3],
    )


def _mixes(
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


def plain_colours(likeness: Likeness) -> Iterator[Colour]:
    """Yield the colours of one shade that dyed stuff is commonly sold in.

    A colour that only one or two materials come in is that stuff's own, not a dyer's; so is one
    named after the stuff that grows in it.
    """
    sold = Counter(name for one in likeness.trade.materials.values() for name in one.colours)
    stuff: set[str] = set()
    for material in likeness.trade.materials.values():
        stuff |= {animal_of(material), *material.kind.split()}
    for colour in likeness.trade.colours.values():
        is_plain = len(colour.hexes) == 1 and colour.marking == SOLID
        if is_plain and sold[colour.id] >= _COMMON and not stuff & set(colour.id.split("-")):
            yield colour


def animal_of(material: Material) -> str:
    """Return the last word for what stuff comes from: ``ruffed grouse, back`` is ``grouse``.

    What is spun or drawn is told by its class: a yarn is asked for before its fleece.
    """
    if material.kind in _SPUN:
        return material.kind
    words = re.split(r"[,;(]", material.comes_from)[0].split()
    return words[-1].lower() if words else material.id
