"""Two feathers or furs together: where a dressing mixes them, and where two stand for one."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from variants.design.attributes_of import lot_attributes, together
from variants.design.departure import equal_term, is_same, sum_of, weighted
from variants.design.domain import AnyBatch
from variants.design.multisets import Multisets
from variants.design.stock import Lot, Stuff
from variants.model import Candidate, Ingredient, Part, StylePart, Term, Way
from variants.rulebook import Equal

if TYPE_CHECKING:
    from variants.design.candidates import DomainBuilder

#: What tells stuffs apart: the key of their ingredient.
StuffKey = tuple[str, str]


def find_mixes(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    stuffs: Sequence[Stuff],
    with_any: Container[StuffKey] | None = None,
) -> Iterator[AnyBatch]:
    """Yield the ways to fill a part that mixes two, one lot for each ingredient.

    Each lot is of its ingredient's class of stuff: like is mixed with like (common practice).
    Three and more together are rare; there each lot must be of the very material.

    Notes
    -----
    The same stuffs may stand for the ingredients in more than one order; the one that departs least
    counts, whichever lots are taken. ``with_any`` asks only for mixes with any of these stuffs.
    """
    count = len(part.ingredients)
    share = style_part.weight / count
    costs = [
        [
            builder.near(part, wanted, share).cost(stuff.ingredient)
            if _may_be_mixed(wanted, stuff, count)
            else None
            for stuff in stuffs
        ]
        for wanted in part.ingredients
    ]
    make = partial(_mixed, builder, part, share)
    changed = [
        [not is_same(wanted, stuff.ingredient) for stuff in stuffs] for wanted in part.ingredients
    ]
    yield from Multisets(stuffs, costs, make, changed, _places_of(with_any, stuffs)).find_batches()


def _mixed(builder: DomainBuilder, part: Part, share: float, lots: Sequence[Lot]) -> Candidate:
    """Return the mix of lots that stand for a part's ingredients in their order."""
    pairs = [*zip(part.ingredients, [lot.ingredient for lot in lots], strict=True)]
    is_written = all(is_same(wanted, found) for wanted, found in pairs)
    terms = [
        term
        for wanted, found in pairs
        for term in weighted(builder.terms(part, wanted, found), share)
    ]
    return _candidate(
        builder, part, Way.AS_WRITTEN if is_written else Way.MIXED, lots, tuple(terms)
    )


def _candidate(
    builder: DomainBuilder, part: Part, way: Way, lots: Sequence[Lot], terms: tuple[Term, ...]
) -> Candidate:
    attributes = together([lot_attributes(lot, builder.rulebook) for lot in lots])
    return builder.candidate(part, way, lots, terms, attributes)


def _places_of(
    with_any: Container[StuffKey] | None, stuffs: Sequence[Stuff]
) -> frozenset[int] | None:
    if with_any is None:
        return None
    keys = enumerate(stuff.ingredient.key for stuff in stuffs)
    return frozenset(place for place, key in keys if key in with_any)


def find_mixes_for_one(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    stuffs: Sequence[Stuff],
    with_any: Container[StuffKey] | None = None,
) -> Iterator[AnyBatch]:
    """Yield the mixes that stand for the part's single colour."""
    wanted = part.ingredients[0]
    for rule in builder.equals(part):
        if not (rule.both_ways and wanted.colour and wanted.colour.id in rule.single):
            continue
        share = style_part.weight / len(rule.mixed)
        near = builder.near(part, wanted, share).material
        costs = [
            [
                near(stuff.ingredient.material) if _colour_of(stuff) == colour else None
                for stuff in stuffs
            ]
            for colour in sorted(rule.mixed)
        ]
        mix = weighted([equal_term(rule)], style_part.weight)
        make = partial(_two_for_one, builder, part, share, mix)
        chosen = _places_of(with_any, stuffs)
        yield from Multisets(stuffs, costs, make, None, chosen, sum_of(mix)).find_batches()


def _colour_of(stuff: Stuff) -> str:
    return stuff.ingredient.colour.id if stuff.ingredient.colour else ""


def _two_for_one(
    builder: DomainBuilder, part: Part, share: float, mix: tuple[Term, ...], lots: Sequence[Lot]
) -> Candidate:
    """Return the mix of lots, one for each of its colours, that stands for a part's one colour."""
    wanted, terms = part.ingredients[0], [*mix]
    for lot in lots:
        own = builder.material_terms(part, wanted, lot.ingredient.material)
        terms += weighted(own, share)
    return _candidate(builder, part, Way.MIXED, lots, tuple(terms))


def equal_for(builder: DomainBuilder, part: Part, found: Ingredient) -> Equal | None:
    """Return the rule by which one feather does the work of the part's mix."""
    written = {ingredient.colour.id for ingredient in part.ingredients if ingredient.colour}
    return next(
        (
            rule
            for rule in builder.equals(part)
            if rule.mixed == written and found.colour and found.colour.id in rule.single
        ),
        None,
    )


def _may_be_mixed(wanted: Ingredient, stuff: Stuff, count: int) -> bool:
    found = stuff.ingredient.material
    return found.id == wanted.material.id if count > 2 else found.kind == wanted.material.kind
