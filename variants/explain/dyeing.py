"""In which colours a material is to be had: as it comes, as it is sold dyed, or dyed at home.

A dye darkens and never bleaches, and a barred feather stays barred under it. Materials and the
colours wanted come in, shades on offer go out; how near they are is judged elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from variants.model import Colour, Material, Term
from variants.rulebook.colours import SOLID, lab
from variants.rulebook.likeness import Likeness

ANY = "any"


@dataclass(frozen=True, slots=True)
class Shade:
    """A colour on offer, what getting it costs, and how it looks when tied.

    Attributes
    ----------
    colours : tuple of Colour
        One, or two that go in together.
    terms : tuple of Term
        What it takes to get it so.
    as_tied : Colour or None
        How several look together; None for one alone.
    """

    colours: tuple[Colour, ...]
    terms: tuple[Term, ...] = ()
    as_tied: Colour | None = field(default=None)

    @property
    def seen(self) -> Colour:
        """The colour that is seen on the fly."""
        return self.as_tied or self.colours[0]


def shades_of(
    likeness: Likeness, material: Material, wanted: tuple[Colour, ...]
) -> list[Shade]:
    """Return the colours in which a material comes, and those wanted that a dye would give it."""
    known = likeness.trade.colours
    own = [known[name] for name in material.colours if name in known]
    shades = [Shade((colour,)) for colour in own]
    if ANY in material.colours or material.dyes_well:
        for colour in wanted:
            if colour.id not in material.colours and colour.hexes:
                is_sold = ANY in material.colours and len(colour.hexes) == 1
                terms = (_dye_term(likeness, is_sold),)
                shades += [Shade((dyed,), terms) for dyed in _dyed(own, colour, is_sold)]
    return shades


def _dye_term(likeness: Likeness, is_sold: bool) -> Term:
    scale, says = ("dyed", "dyed") if is_sold else ("dye_it", "has to be dyed")
    tables = likeness.tables
    return Term("dye", round(tables.scales[scale]), says, tables.scale_sources[scale])


def _dyed(own: list[Colour], wanted: Colour, sold: bool) -> list[Colour]:
    """Return the wanted shade on each of a material's markings that is pale enough to take it."""
    if not own:
        return [_on(None, wanted)] if sold else []
    pale = [one for one in own if one.hexes and _takes(one, wanted)]
    by_marking: dict[str, Colour] = {}
    for one in pale:
        by_marking.setdefault(one.marking, one)
    return [_on(one, wanted) for one in by_marking.values()]


def _takes(ground: Colour, wanted: Colour) -> bool:
    """Tell whether a ground is as light as the shade wanted; a little darker passes."""
    lightest = max(lab(shade)[0] for shade in ground.hexes)
    return lightest >= lab(wanted.hexes[0])[0] - 5.0


def _on(ground: Colour | None, wanted: Colour) -> Colour:
    """Return the wanted main shade laid over a ground, whose darker marks show through."""
    if ground is None or ground.marking == SOLID:
        under = ground.id if ground else "white"
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
