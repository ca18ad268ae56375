"""A single stuff in a part: as written, in place of another, or one for a mix of two."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from functools import partial
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from variants.model import Candidate, Ingredient, Part, StylePart, Term, Way
from variants.problem.attributes_of import shared_length
from variants.problem.departure import (
    equal_term,
    is_same,
    lost_feather_term,
    sum_of,
    weighted,
    weighted_sum,
)
from variants.problem.domain import Offer
from variants.problem.mixes import StuffKey, equal_for
from variants.problem.stock import Stuff
from variants.rulebook import SINGLE_SIDES

if TYPE_CHECKING:
    from variants.problem.candidates import DomainBuilder


class _Filling(NamedTuple):
    """How a stuff fills a part.

    Attributes
    ----------
    way : Way
    wanted : Ingredient
        Of two that are mixed, the one it is nearest to.
    cost : int
        Thousandths.
    mix : Term, optional
        What it costs that one does the work of two, before the part's weight.
    """

    way: Way
    wanted: Ingredient
    cost: int
    mix: Term | None = None


def single_offers(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    with_any: Container[StuffKey] | None = None,
) -> Iterator[Offer]:
    """Yield a promise for each material that can serve, of what its colours come to.

    ``with_any`` spares those that are of none of these stuffs.

    Notes
    -----
    What a material departs by itself, whatever its colour, none of its stuffs is below.
    """
    near = [builder.near(part, wanted) for wanted in part.ingredients]
    for stuffs in builder.stock.by_material(builder.functions(part)):
        if with_any is not None:
            stuffs = [stuff for stuff in stuffs if stuff.ingredient.key in with_any]
        if stuffs:
            material = stuffs[0].ingredient.material
            least = min([one.material(material) for one in near])
            yield Offer(least, settle=partial(_settle, builder, part, style_part, stuffs))


def _settle(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuffs: Sequence[Stuff]
) -> Iterator[Offer]:
    for stuff in stuffs:
        cost = _cost(builder, part, style_part, stuff.ingredient)
        yield Offer(cost, partial(_singles, builder, part, style_part, stuff))
        if stuff.has_both_sides:
            yield Offer(cost, partial(_pairs, builder, part, style_part, stuff))


def _cost(builder: DomainBuilder, part: Part, style_part: StylePart, found: Ingredient) -> int:
    if len(part.ingredients) == 1:
        return builder.near(part, part.ingredients[0]).cost(found)
    return _filling(builder, part, style_part, found).cost


def _filling(
    builder: DomainBuilder, part: Part, style_part: StylePart, found: Ingredient
) -> _Filling:
    wanted = part.ingredients[0]
    if len(part.ingredients) == 1:
        way = Way.AS_WRITTEN if is_same(wanted, found) else Way.SUBSTITUTE
        return _Filling(way, wanted, builder.near(part, wanted).cost(found))
    wanted = min(part.ingredients, key=lambda one: sum_of(builder.terms(part, one, found)))
    equal = equal_for(builder, part, found)
    if equal:
        mix = equal_term(equal)
        own = builder.near(part, wanted).material(found.material)
        return _Filling(Way.COMBINED, wanted, own + weighted_sum([mix], style_part.weight), mix)
    mix = lost_feather_term(builder.rulebook.conventions)
    own = builder.near(part, wanted).cost(found)
    return _Filling(Way.SUBSTITUTE, wanted, own + weighted_sum([mix], style_part.weight), mix)


def _terms(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    filling: _Filling,
    found: Ingredient,
) -> tuple[Term, ...]:
    """Return the terms of a filling, weighted: what `_Filling.cost` comes to, in words."""
    if filling.way is Way.COMBINED:
        terms = builder.material_terms(part, filling.wanted, found.material)
    else:
        terms = builder.terms(part, filling.wanted, found)
    if filling.mix is not None:
        terms = (*terms, filling.mix)
    return weighted(terms, style_part.weight)


def _singles(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuff: Stuff
) -> list[Candidate]:
    filling = _filling(builder, part, style_part, stuff.ingredient)
    terms = partial(_terms, builder, part, style_part, filling, stuff.ingredient)
    dressed = builder.dressed_stuff(part, stuff)
    return [
        builder.single(part, lot, filling.way, dressed, terms, filling.cost) for lot in stuff.lots
    ]


def _pairs(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuff: Stuff
) -> list[Candidate]:
    """Return what a left and a right of the same feather make together."""
    alone = {one.key: one for one in _singles(builder, part, style_part, stuff)}
    pairs = []
    for pair in product(*(stuff.side(side) for side in SINGLE_SIDES)):
        left = alone[pair[0].key]
        lengths = shared_length(pair, builder.rulebook)
        key = tuple(word for lot in pair for word in lot.key)
        items = tuple(lot.items for lot in pair)
        pairs.append(left.varied({**left.attributes, **lengths, "side": "pair"}, key, items))
    return pairs
