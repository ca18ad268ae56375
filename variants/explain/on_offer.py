"""In which colours stuff is to be had: as it comes, sold dyed, dyed at home, two of it together.

A dye darkens and never bleaches, and a barred feather stays barred under it. Materials and the
colours wanted come in, shades on offer go out; how near they are is judged elsewhere.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations

from variants.model import Box, Colour, Item, Material, Term
from variants.rulebook.colours import SOLID, delta_e, lab, wound_together
from variants.rulebook.likeness import Likeness

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
    likeness: Likeness, material: Material, wanted: tuple[Colour, ...], box: Box | None
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
    """
    single = _in_shops(likeness, material, wanted) if box is None else _in_box(material, box)
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


def _in_shops(likeness: Likeness, material: Material, wanted: tuple[Colour, ...]) -> list[Shade]:
    known = likeness.trade.colours
    own = [known[name] for name in material.colours if name in known]
    shades = [Shade((colour,)) for colour in own]
    if ANY in material.colours or material.dyes_well:
        for colour in wanted:
            if colour.id not in material.colours and colour.hexes:
                is_sold = ANY in material.colours and len(colour.hexes) == 1
                terms = (_dye_term(likeness, is_sold),)
                shades += [Shade((dyed,), terms) for dyed in _dyed(own, colour, is_sold)]
    return shades or [Shade(())]


def _dye_term(likeness: Likeness, is_sold: bool) -> Term:
    scale, says = ("dyed", "dyed") if is_sold else ("dye_it", "has to be dyed")
    return Term("dye", likeness.thousandths(scale), says, likeness.tables.scale_sources[scale])


def _dyed(own: list[Colour], wanted: Colour, is_sold: bool) -> Iterator[Colour]:
    """Yield the wanted shade on each of a material's markings that is pale enough to take it."""
    if not own:
        if is_sold:
            yield _on(None, wanted)
        return
    by_marking: dict[str, Colour] = {}
    for one in own:
        if one.hexes and _takes(one, wanted):
            by_marking.setdefault(one.marking, one)
    for one in by_marking.values():
        yield _on(one, wanted)


def _takes(ground: Colour, wanted: Colour) -> bool:
    """Tell whether a ground is as light as the shade wanted; a little darker passes."""
    lightest = max(lab(shade)[0] for shade in ground.hexes)
    return lightest >= lab(wanted.hexes[0])[0] - _DARKER


def _on(ground: Colour | None, wanted: Colour) -> Colour:
    """Return the wanted main shade laid over a ground, whose darker marks show through."""
    if ground is None or ground.marking == SOLID:
        under = ground.id if ground else "undyed"
        return Colour(
            id=f"{wanted.id} dyed on {under}",
            name=f"dyed {wanted.name}",
            family=wanted.family,
            hexes=wanted.hexes[:1],
        )
    level = lab(wanted.hexes[0])[0]
    marks = tuple(shade for shade in ground.hexes if lab(shade)[0] < level)
    return Colour(
        id=f"{wanted.id} dyed on {ground.id}",
        name=f"{ground.name} dyed {wanted.name}",
        family=wanted.family,
        marking=ground.marking,
        hexes=(wanted.hexes[0], *marks)[:3],
    )


def _mixes(
    likeness: Likeness, wanted: tuple[Colour, ...], single: Iterable[Shade]
) -> Iterator[Shade]:
    """Yield two shades together where a colour wanted has several that no single one brings."""
    for colour in wanted if len(wanted) == 1 else ():
        if len(colour.hexes) < 2:
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

    A colour that only one or two materials come in is that stuff's own, not a dyer's.
    """
    sold = Counter(name for one in likeness.trade.materials.values() for name in one.colours)
    for colour in likeness.trade.colours.values():
        is_plain = len(colour.hexes) == 1 and colour.marking == SOLID
        if is_plain and sold[colour.id] >= _COMMON:
            yield colour
