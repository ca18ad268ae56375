"""Two feathers or furs together: where a dressing mixes them, and where two stand for one."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from functools import partial
from itertools import product
from typing import TYPE_CHECKING

from variants.model import Candidate, Ingredient, Part, StylePart, Term, Way
from variants.problem.attributes_of import lot_attributes, together
from variants.problem.departure import equal_term, is_same, sum_of, weighted
from variants.problem.domain import Offer
from variants.problem.stock import Stuff
from variants.rulebook import Equal

if TYPE_CHECKING:
    from variants.problem.candidates import DomainBuilder

#: How a mix is put together: the stuffs in the order of the ingredients they stand for, and terms.
_Recipe = tuple[tuple[Stuff, ...], Way, tuple[Term, ...]]
#: What tells stuffs apart: the key of their ingredient.
StuffKey = tuple[str, str]


def mix_offers(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    stuffs: Sequence[Stuff],
    with_any: Container[StuffKey] | None = None,
) -> Iterator[Offer]:
    """Yield the ways to fill a part that mixes two, one lot for each ingredient.

    Each lot is of its ingredient's class of stuff: like is mixed with like (common practice).
    Three and more together are rare; there each lot must be of the very material.

    Notes
    -----
    The same stuffs may stand for the ingredients in more than one order; the one that departs least
    counts, whichever lots are taken. ``with_any`` asks only for mixes with any of these stuffs.
    """
    count = len(part.ingredients)
    serving = [
        [stuff for stuff in stuffs if _may_be_mixed(ingredient, stuff, count)]
        for ingredient in part.ingredients
    ]
    share = style_part.weight / count
    terms_of = [
        {
            stuff.ingredient.key: weighted(builder.terms(part, wanted, stuff.ingredient), share)
            for stuff in offered
        }
        for wanted, offered in zip(part.ingredients, serving, strict=True)
    ]
    nearest: dict[tuple[tuple[str, str], ...], tuple[int, list[_Recipe]]] = {}
    for chosen in _choices(serving, with_any):
        terms = tuple(
            term
            for own, stuff in zip(terms_of, chosen, strict=True)
            for term in own[stuff.ingredient.key]
        )
        made_of = tuple(sorted(stuff.ingredient.key for stuff in chosen))
        cost, recipes = nearest.setdefault(made_of, (sum_of(terms), []))
        if sum_of(terms) < cost:
            cost, recipes = nearest[made_of] = (sum_of(terms), [])
        if sum_of(terms) == cost:
            is_written = all(
                is_same(wanted, stuff.ingredient)
                for wanted, stuff in zip(part.ingredients, chosen, strict=True)
            )
            recipes.append((chosen, Way.AS_WRITTEN if is_written else Way.MIXED, terms))
    for cost, recipes in nearest.values():
        yield Offer(cost, partial(_mixes, builder, part, recipes))


def _mixes(builder: DomainBuilder, part: Part, recipes: Sequence[_Recipe]) -> list[Candidate]:
    """Return the mixes of all lots, each set of lots once."""
    mixes: dict[tuple[str, ...], Candidate] = {}
    for stuffs, way, terms in recipes:
        for chosen in product(*(stuff.lots for stuff in stuffs)):
            if len({lot.key for lot in chosen}) < len(chosen):
                continue
            attributes = together([lot_attributes(lot, builder.rulebook) for lot in chosen])
            mixed = builder.candidate(part, way, chosen, terms, attributes)
            identity = tuple(sorted(lot.item.id for lot in chosen))
            other = mixes.get(identity)
            if other is None or mixed.key < other.key:
                mixes[identity] = mixed
    return list(mixes.values())


def _choices(
    serving: Sequence[Sequence[Stuff]], with_any: Container[StuffKey] | None
) -> Iterator[tuple[Stuff, ...]]:
    """Yield one stuff for each place in every way, or in every way that has any of some stuffs."""
    if with_any is None:
        yield from product(*serving)
        return
    wanted = [[one for one in own if one.ingredient.key in with_any] for own in serving]
    others = [[one for one in own if one.ingredient.key not in with_any] for own in serving]
    for place in range(len(serving)):
        yield from product(*others[:place], wanted[place], *serving[place + 1 :])


def two_for_one_offers(
    builder: DomainBuilder,
    part: Part,
    style_part: StylePart,
    stuffs: Sequence[Stuff],
    with_any: Container[StuffKey] | None = None,
) -> Iterator[Offer]:
    """Yield the mixes that stand for the part's single colour."""
    wanted = part.ingredients[0]
    for rule in builder.equals(part):
        if not (rule.both_ways and wanted.colour and wanted.colour.id in rule.single):
            continue
        serving = [
            [
                stuff
                for stuff in stuffs
                if stuff.ingredient.colour and stuff.ingredient.colour.id == colour
            ]
            for colour in sorted(rule.mixed)
        ]
        for chosen in _choices(serving, with_any):
            terms = [*weighted([equal_term(rule)], style_part.weight)]
            for stuff in chosen:
                own = builder.rulebook.likeness.material(
                    wanted.material, stuff.ingredient.material, part.id, builder.style.id
                )
                terms += weighted(own, style_part.weight / len(chosen))
            make = partial(_together, builder, part, chosen, tuple(terms))
            yield Offer(sum_of(terms), make)


def _together(
    builder: DomainBuilder, part: Part, stuffs: Sequence[Stuff], terms: tuple[Term, ...]
) -> list[Candidate]:
    return [
        builder.candidate(
            part,
            Way.MIXED,
            chosen,
            terms,
            together([lot_attributes(lot, builder.rulebook) for lot in chosen]),
        )
        for chosen in product(*(stuff.lots for stuff in stuffs))
    ]


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
