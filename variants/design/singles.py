"""A single stuff in a part: as written, in place of another, or one for a mix of two."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from functools import partial
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from variants.design.attributes_of import shared_length
from variants.design.departure import (
    equal_term,
    is_same,
    lost_feather_term,
    weighted,
    weighted_sum,
)
from variants.design.domain import AnyBatch, CandidateBatch, LazyBatch
from variants.design.mixes import StuffKey, equal_for
from variants.design.stock import Stuff
from variants.model import Candidate, Ingredient, Part, StylePart, Term, Way
from variants.rulebook import SINGLE_SIDES

if TYPE_CHECKING:
    from variants.design.candidates import DomainBuilder


#: What a material departs by itself, its place among the box's, and its stuffs.
_Ranked = tuple[int, int, list[Stuff]]


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


def find_singles(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    with_any: Container[StuffKey] | None = None,
) -> Iterator[AnyBatch]:
    """Yield the lazy batch of all materials that can serve, nearest first.

    ``with_any`` spares those that are of none of these stuffs.

    Notes
    -----
    What a material departs by itself, whatever its colour, none of its stuffs is below. Materials
    that the tables don't know at the part wait until somebody comes as far as that alone costs.
    """
    stuffs_of = builder.by_material(part)
    if with_any is not None:
        some = [[one for one in own if one.ingredient.key in with_any] for own in stuffs_of]
        stuffs_of = [own for own in some if own]
    likeness = builder.rulebook.likeness
    known: list[list[Stuff]] = []
    unusual: list[list[Stuff]] = []
    for own in stuffs_of:
        is_known = likeness.is_known(own[0].ingredient.material, part.id)
        (known if is_known else unusual).append(own)
    yield from _nearest_first(builder, part, style_part, known)
    if unusual:
        floor = round(likeness.thousandths("unusual") * style_part.weight)
        expand = partial(_nearest_first, builder, part, style_part, unusual)
        written = {wanted.material.id for wanted in part.ingredients}
        if any(own[0].ingredient.material.id in written for own in unusual):
            floor = 0
        yield LazyBatch(floor, expand)


def _nearest_first(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    stuffs_of: Sequence[list[Stuff]],
) -> Iterator[AnyBatch]:
    """Yield the lazy batch of some materials' stuffs, nearest first."""
    near = [builder.near(part, wanted).material for wanted in part.ingredients]
    ranked = [
        (min([least(own[0].ingredient.material) for least in near]), place, own)
        for place, own in enumerate(stuffs_of)
    ]
    ranked.sort()
    if ranked:
        yield _lazy_batch(builder, part, style_part, ranked, 0)


def _lazy_batch(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    ranked: Sequence[_Ranked],
    place: int,
) -> LazyBatch:
    """Return the lazy batch of the material at a place, and of all that stand farther off."""
    expand = partial(_expand, builder, part, style_part, ranked, place)
    return LazyBatch(ranked[place][0], expand)


def _expand(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    ranked: Sequence[_Ranked],
    place: int,
) -> Iterator[AnyBatch]:
    if place + 1 < len(ranked):
        yield _lazy_batch(builder, part, style_part, ranked, place + 1)
    is_alone = len(part.ingredients) == 1
    near = builder.near(part, part.ingredients[0])
    for stuff in ranked[place][2]:
        found = stuff.ingredient
        cost = near.cost(found) if is_alone else _filling(builder, part, style_part, found).cost
        yield CandidateBatch(cost, partial(_singles, builder, part, style_part, stuff))
        if stuff.has_both_sides:
            yield CandidateBatch(cost, partial(_pairs, builder, part, style_part, stuff))


def _filling(
    builder: DomainBuilder, part: Part, style_part: StylePart, found: Ingredient
) -> _Filling:
    wanted = part.ingredients[0]
    if len(part.ingredients) == 1:
        way = Way.AS_WRITTEN if is_same(wanted, found) else Way.SUBSTITUTE
        return _Filling(way, wanted, builder.near(part, wanted).cost(found))
    wanted = min(part.ingredients, key=lambda one: builder.near(part, one, 1.0).cost(found))
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
