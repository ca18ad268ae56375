"""A single stuff in a part: as written, in place of another, or one for a mix of two."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from variants.model import Attributes, Candidate, Ingredient, Material, Part, StylePart, Term, Way
from variants.problem.attributes_of import lot_attributes, shared_length
from variants.problem.departure import (
    equal_term,
    is_same,
    lost_feather_term,
    weighted,
    weighted_cost,
)
from variants.problem.domain import Offer
from variants.problem.mixes import StuffKey, equal_for
from variants.problem.stock import Lot, Stuff
from variants.rulebook import SINGLE_SIDES

if TYPE_CHECKING:
    from variants.problem.candidates import DomainBuilder


class _Filling(NamedTuple):
    """How a stuff fills a part.

    Attributes
    ----------
    way : Way
    wanted, found : Ingredient
        Of two that are mixed, the one it is nearest to is wanted.
    costs : tuple of int
        Of each term, before the part's weight.
    mix : Term, optional
        What it costs that one does the work of two.
    """

    way: Way
    wanted: Ingredient
    found: Ingredient
    costs: tuple[int, ...]
    mix: Term | None = None


def single_offers(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    with_any: Container[StuffKey] | None = None,
) -> Iterator[Offer]:
    """Yield a promise for each material that can serve, of what its colours come to.

    ``with_any`` spares those that are of none of these stuffs.
    """
    for stuffs in builder.stock.by_material(builder.functions(part)):
        if with_any is not None:
            stuffs = [stuff for stuff in stuffs if stuff.ingredient.key in with_any]
        if stuffs:
            least = _least(builder, part, style_part, stuffs[0].ingredient.material)
            yield Offer(least, settle=partial(_settle, builder, part, style_part, stuffs))


def _least(builder: DomainBuilder, part: Part, style_part: StylePart, found: Material) -> int:
    """Return what stuff of a material can't depart less than, whatever its colour."""
    return min(
        [
            weighted_cost(builder.material_costs(part, wanted, found), style_part.weight)
            for wanted in part.ingredients
        ]
    )


def _settle(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuffs: Sequence[Stuff]
) -> Iterator[Offer]:
    for stuff in stuffs:
        filling = _filling(builder, part, stuff.ingredient)
        cost = weighted_cost(filling.costs, style_part.weight)
        yield Offer(cost, partial(_singles, builder, part, style_part, stuff, filling))
        if stuff.has_both_sides:
            yield Offer(cost, partial(_pairs, builder, part, style_part, stuff, filling))


def _filling(builder: DomainBuilder, part: Part, found: Ingredient) -> _Filling:
    wanted = part.ingredients[0]
    if len(part.ingredients) == 1:
        way = Way.AS_WRITTEN if is_same(wanted, found) else Way.SUBSTITUTE
        return _Filling(way, wanted, found, builder.costs(part, wanted, found))
    wanted = min(part.ingredients, key=lambda one: sum(builder.costs(part, one, found)))
    equal = equal_for(builder, part, found)
    if equal:
        term = equal_term(equal)
        costs = (*builder.material_costs(part, wanted, found.material), term.cost)
        return _Filling(Way.COMBINED, wanted, found, costs, term)
    term = lost_feather_term(builder.rulebook.conventions)
    costs = (*builder.costs(part, wanted, found), term.cost)
    return _Filling(Way.SUBSTITUTE, wanted, found, costs, term)


def _terms(
    builder: DomainBuilder, part: Part, style_part: StylePart, filling: _Filling
) -> tuple[Term, ...]:
    """Return the terms of a filling, weighted: what `_Filling.costs` come to, in words."""
    wanted, found = filling.wanted, filling.found
    if filling.way is Way.COMBINED:
        terms = builder.material_terms(part, wanted, found.material)
    else:
        terms = builder.terms(part, wanted, found)
    if filling.mix is not None:
        terms = (*terms, filling.mix)
    return weighted(terms, style_part.weight)


def _singles(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuff: Stuff, filling: _Filling
) -> list[Candidate]:
    terms = _terms(builder, part, style_part, filling)
    told = stuff.attributes
    return [_single(builder, part, lot, filling.way, terms, told) for lot in stuff.lots]


def _single(
    builder: DomainBuilder,
    part: Part,
    lot: Lot,
    way: Way,
    terms: tuple[Term, ...],
    told: Attributes,
) -> Candidate:
    attributes = lot_attributes(lot, builder.rulebook, told)
    return builder.candidate(part, way, (lot,), terms, attributes)


def _pairs(
    builder: DomainBuilder, part: Part, style_part: StylePart, stuff: Stuff, filling: _Filling
) -> list[Candidate]:
    """Return what a left and a right of the same feather make together."""
    terms = _terms(builder, part, style_part, filling)
    return [
        _pair(builder, part, pair, filling.way, terms, stuff.attributes)
        for pair in product(*(stuff.side(side) for side in SINGLE_SIDES))
    ]


def _pair(
    builder: DomainBuilder,
    part: Part,
    pair: Sequence[Lot],
    way: Way,
    terms: tuple[Term, ...],
    told: Attributes,
) -> Candidate:
    single = _single(builder, part, pair[0], way, terms, told)
    return replace(
        single,
        items=tuple(lot.items for lot in pair),
        attributes={**single.attributes, **shared_length(pair, builder.rulebook), "side": "pair"},
        key=tuple(word for lot in pair for word in lot.key),
    )
