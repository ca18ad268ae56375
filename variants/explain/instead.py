"""What to use instead of a material that is not to be had: ranked, each with what it changes.

A material, the part and the style it is wanted for, perhaps a colour and a box, come in; stand-ins
from the whole materials table, or from the box, come out, nearest first, and with them the stuff
that does not serve and why. The ranking is computed from likeness, so it answers for a material
that no table of substitutes names. Words for the screen are made elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from variants.explain.dyeing import Shade, shades_of
from variants.model import Box, Colour, Ingredient, Item, Material, StylePart, Term
from variants.rulebook.colours import delta_e, wound_together
from variants.rulebook.likeness import Likeness
from variants.rulebook.likeness_profiles import Need, Profile


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted, and for what.

    Attributes
    ----------
    material : Material
    part, style : str
        Ids.
    colour : Colour or None
        None asks for the material in whatever colour it comes.
    without : frozenset of str
        Ids of other materials, and classes of stuff, that can't be had either.
    """

    material: Material
    part: str
    style: str
    colour: Colour | None = None
    without: frozenset[str] = frozenset()

    def excludes(self, material: Material) -> bool:
        """Tell whether a material is not to be had."""
        return bool({material.id, material.kind} & self.without)


@dataclass(frozen=True, slots=True)
class StandIn:
    """One thing to use instead.

    Attributes
    ----------
    material : Material
    colours : tuple of Colour
        One; two when two feathers or furs go in together; none for stuff without colour.
    distance : int
        Thousandths; the sum of the terms.
    terms : tuple of Term
        What differs, largest first.
    items : tuple of Item
        What the box holds of it.
    """

    material: Material
    colours: tuple[Colour, ...]
    distance: int
    terms: tuple[Term, ...]
    items: tuple[Item, ...] = ()


@dataclass(frozen=True, slots=True)
class Unfit:
    """Stuff that is tied in at the part but does not serve here, and the needs it fails."""

    material: Material
    distance: int
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class Instead:
    """The whole answer.

    Attributes
    ----------
    asked : Asked
    profile : Profile
        What matters at the part, with its source.
    stand_ins : tuple of StandIn
        Other materials, nearest first.
    shades : tuple of StandIn
        The same stuff in other colours, or two of them together, nearest first.
    same : tuple of Material
        The same stuff under the name of one of its colours.
    unfit : tuple of Unfit
        What does not serve, nearest first.
    may_go : StylePart or None
        The style's entry for the part when a fly of the style can go without it.
    """

    asked: Asked
    profile: Profile
    stand_ins: tuple[StandIn, ...]
    shades: tuple[StandIn, ...]
    same: tuple[Material, ...]
    unfit: tuple[Unfit, ...]
    may_go: StylePart | None


def find_instead(likeness: Likeness, asked: Asked, box: Box | None = None) -> Instead:
    """Rank what can stand in for a material.

    Parameters
    ----------
    likeness : Likeness
    asked : Asked
    box : Box, optional
        Answer from what it holds and has left; without one, from the whole materials table.

    Notes
    -----
    One comparison for each material and colour on offer; mixes of two are tried only for a colour
    of several shades, in the stuff that was asked for.
    """
    part = likeness.trade.parts[asked.part]
    serving = [
        material
        for material in likeness.trade.materials.values()
        if material.functions & part.functions and not asked.excludes(material)
    ]
    same = tuple(one for one in serving if _is_same_stuff(likeness, asked, one))
    names = {one.id for one in same} | {asked.material.id}
    others = [one for one in serving if one.id not in names]
    unmet = {one.id: likeness.unmet(asked.material, one, asked.part, asked.style) for one in others}
    offers = _offers(likeness, asked, [one for one in others if not unmet[one.id]], box)
    own = [asked.material, *same]
    style = likeness.trade.styles[asked.style].part(asked.part)
    return Instead(
        asked=asked,
        profile=likeness.profile(asked.part, asked.style, asked.material.kind),
        stand_ins=_lawful_first(sorted(offers, key=_order)),
        shades=tuple(sorted(_other_shades(likeness, asked, own, box), key=_order)),
        same=same,
        unfit=_unfit(likeness, asked, [one for one in others if unmet[one.id]], box),
        may_go=style if style is not None and style.optional else None,
    )


def _order(stand_in: StandIn) -> tuple[int, str, tuple[str, ...]]:
    return stand_in.distance, stand_in.material.id, tuple(one.id for one in stand_in.colours)


def _lawful_first(ranked: list[StandIn]) -> tuple[StandIn, ...]:
    """Put the nearest answer that carries no caution in front; leave the rest in order."""
    for index, one in enumerate(ranked):
        if not one.material.caution:
            return (one, *ranked[:index], *ranked[index + 1 :])
    return tuple(ranked)


def _is_same_stuff(likeness: Likeness, asked: Asked, other: Material) -> bool:
    """Tell whether a material is the one asked for under the name of one of its colours."""
    wanted = asked.material
    if other.id == wanted.id or other.kind != wanted.kind:
        return False
    if not _words(wanted.comes_from) & _words(other.comes_from):
        return False
    named = [(one, rest) for one, rest in ((wanted, other), (other, wanted))
             if any(colour in rest.colours for colour in _named_for(likeness, one))]  # fmt: skip
    terms = likeness.material(wanted, other, asked.part, asked.style)
    return bool(named) and sum(term.cost for term in terms) <= likeness.tables.scales["same_stuff"]


def _named_for(likeness: Likeness, material: Material) -> list[str]:
    """Return the colours of a material that its own name tells."""
    words = _words(material.name)
    known = likeness.trade.colours
    return [
        colour
        for colour in material.colours
        if colour in known
        and any(
            set() < _words(name) <= words for name in (known[colour].name, *known[colour].also)
        )
    ]


def _words(text: str) -> set[str]:
    return {word for word in re.split(r"[^a-z]+", text.lower()) if len(word) > 2}


def _offers(
    likeness: Likeness, asked: Asked, materials: Iterable[Material], box: Box | None
) -> Iterator[StandIn]:
    """Yield each material once, in the colour of it that comes nearest."""
    wanted = _colours_wanted(likeness, asked)
    for material in materials:
        for shades, items in _on_offer(likeness, material, wanted, box):
            terms = likeness.material(asked.material, material, asked.part, asked.style)
            found, colour_terms = _nearest(likeness, asked, wanted, shades)
            cautions = _caution_terms(likeness, material) if box is None else ()
            yield _stand_in(material, found, (*terms, *colour_terms, *cautions), items)


def _caution_terms(likeness: Likeness, material: Material) -> tuple[Term, ...]:
    caution = likeness.tables.caution(material)
    return (Term("caution", caution.cost, caution.says, caution.source),) if caution else ()


def _stand_in(
    material: Material,
    shade: Shade | None,
    terms: tuple[Term, ...],
    items: tuple[Item, ...],
) -> StandIn:
    ordered = tuple(sorted(terms, key=lambda term: -term.cost))
    colours = shade.colours if shade else ()
    return StandIn(material, colours, sum(term.cost for term in terms), ordered, items)


def _colours_wanted(likeness: Likeness, asked: Asked) -> tuple[Colour, ...]:
    if asked.colour is not None:
        return (asked.colour,)
    known = likeness.trade.colours
    return tuple(known[name] for name in asked.material.colours if name in known)


def _on_offer(
    likeness: Likeness, material: Material, wanted: tuple[Colour, ...], box: Box | None
) -> Iterator[tuple[list[Shade], tuple[Item, ...]]]:
    """Yield the colours in which a material is to be had, with the items of the box."""
    if box is None:
        yield shades_of(likeness, material, wanted), ()
        return
    held: dict[str, list[Item]] = {}
    for item in box.items:
        if item.material.id == material.id and not item.is_gone:
            held.setdefault(item.colour.id if item.colour else "", []).append(item)
    for items in held.values():
        colour = items[0].colour
        yield ([Shade((colour,), ())] if colour else []), tuple(items)


def _nearest(
    likeness: Likeness, asked: Asked, wanted: tuple[Colour, ...], shades: list[Shade]
) -> tuple[Shade | None, tuple[Term, ...]]:
    """Return the nearest of several shades to any of the colours wanted, and what still differs."""
    best: tuple[int, Shade, tuple[Term, ...]] | None = None
    kind = asked.material.kind
    names = {colour.id for colour in wanted}
    for shade in sorted(shades, key=lambda one: one.seen.id not in names):
        for colour in wanted or (None,):
            terms = (
                *likeness.colour(colour, shade.seen, asked.part, asked.style, kind),
                *shade.terms,
            )
            cost = sum(term.cost for term in terms)
            if best is None or cost < best[0]:
                best = cost, shade, terms
        if best is not None and best[0] == 0:
            break
    return (best[1], best[2]) if best else (None, ())


def _other_shades(
    likeness: Likeness, asked: Asked, own: Iterable[Material], box: Box | None
) -> Iterator[StandIn]:
    """Yield the stuff asked for in its other colours, and two of them together for a marked one."""
    if asked.colour is None:
        return
    seen: set[tuple[str, ...]] = set()
    for material in own:
        for shades, items in _on_offer(likeness, material, (), box):
            for shade in (*shades, *_mixes(likeness, asked.colour, shades)):
                names = tuple(colour.id for colour in shade.colours)
                if names not in seen and names != (asked.colour.id,):
                    seen.add(names)
                    _, terms = _nearest(likeness, asked, (asked.colour,), [shade])
                    yield _stand_in(material, shade, terms, items)


def _mixes(likeness: Likeness, wanted: Colour, shades: list[Shade]) -> Iterator[Shade]:
    if len(wanted.hexes) < 2 or " + " in wanted.id:
        return
    scales = likeness.tables
    term = Term("mix", round(scales.scales["mixed"]), "two together", scales.scale_sources["mixed"])
    near = [shade for shade in shades if _adds_no_shade(shade.seen, wanted, scales.scales["shade"])]
    for one, other in combinations(near, 2):
        colours = (*one.colours, *other.colours)
        yield Shade(colours, (term,), replace(wound_together(colours)))


def _adds_no_shade(colour: Colour, wanted: Colour, far: float) -> bool:
    """Tell whether every shade of a colour is like one of those wanted."""
    return all(
        min(delta_e(shade, other) for other in wanted.hexes) <= far for shade in colour.hexes
    )


def _unfit(
    likeness: Likeness, asked: Asked, materials: Iterable[Material], box: Box | None
) -> tuple[Unfit, ...]:
    held = None if box is None else {item.material.id for item in box.items}
    found = [
        Unfit(
            one,
            sum(term.cost for term in likeness.material(asked.material, one, asked.part, asked.style)),
            likeness.unmet(asked.material, one, asked.part, asked.style),
        )
        for one in materials
        if held is None or one.id in held
    ]
    return tuple(sorted(found, key=lambda one: (one.distance, one.material.id)))
