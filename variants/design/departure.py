"""How far a candidate stands from what the dressing writes: terms, each explained.

The departure of a part is the style's weight for it times the distances of material, colour and
marking; every term is a whole number of thousandths, rounded once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from variants.model import Colour, Ingredient, StylePart, Term
from variants.rulebook import THOUSANDTHS, Conventions, CostTable, Equal, Likeness, weighted_cost


def weighted(terms: Iterable[Term], weight: float) -> tuple[Term, ...]:
    """Scale terms by a part's weight, dropping those that come to nothing."""
    scaled = (Term(term.what, round(term.cost * weight), term.says, term.source) for term in terms)
    return tuple(term for term in scaled if term.cost)


def ingredient_terms(
    likeness: Likeness, wanted: Ingredient, found: Ingredient, part: str, style: str
) -> tuple[Term, ...]:
    """Return the unweighted terms of one ingredient in another's place."""
    return likeness.ingredient(wanted, found, part, style)


def left_out_term(conventions: Conventions, style_part: StylePart) -> Term:
    """Return what leaving the part out costs; the more a part makes the fly, the more."""
    least, most = conventions.left_out_least, conventions.left_out_most
    share = least + (most - least) * style_part.weight
    cost = round(share * style_part.weight * THOUSANDTHS)
    return Term("part", cost, "left out", "conventions: left_out_least, left_out_most")


def lost_feather_term(conventions: Conventions) -> Term:
    """Return what one feather costs where the dressing winds two, before the part's weight."""
    return Term(
        "mix",
        round(conventions.mixed_part * THOUSANDTHS),
        "one alone where the dressing mixes two",
        "conventions: mixed_part",
    )


def equal_term(rule: Equal) -> Term:
    """Return what one feather for a mix, or a mix for one feather, costs before the weight."""
    return Term("mix", round(rule.cost * THOUSANDTHS), rule.difference, rule.source)


def is_same(wanted: Ingredient, found: Ingredient) -> bool:
    """Tell whether the found ingredient is the one written; an unstated colour is any colour."""
    if wanted.material.id != found.material.id:
        return False
    return wanted.colour is None or (
        found.colour is not None and wanted.colour.id == found.colour.id
    )


def sum_of(terms: Iterable[Term]) -> int:
    """Return what terms come to."""
    return sum([term.cost for term in terms])


def weighted_sum(terms: Iterable[Term], weight: float) -> int:
    """Return what terms come to once they are scaled by a part's weight."""
    return weighted_cost([term.cost for term in terms], weight)


class Nearness:
    """How far stuff stands from one ingredient of a part, every term scaled by the part's weight.

    Parameters
    ----------
    likeness : Likeness
    wanted : Ingredient
    part, style : str
    weight : float
    """

    __slots__ = ("_colours", "_shared", "_told", "material")

    def __init__(
        self, likeness: Likeness, wanted: Ingredient, part: str, style: str, weight: float
    ) -> None:
        #: Returns what a material departs, whatever its colour.
        self.material = likeness.material_cost_table(wanted.material, part, style, weight).cost
        self._shared = partial(likeness.shade_share, wanted)
        self._told = wanted.colour is not None
        #: What colours depart, by what a published exchange leaves of a difference in shade.
        self._colours = _CostTables(
            partial(likeness.colour_cost_table, wanted, part, style, weight)
        )

    def cost(self, found: Ingredient) -> int:
        """Return what stuff departs in material and colour."""
        cost = self.material(found.material)
        if self._told and found.colour is not None:
            cost += self._colours[self._shared(found.material)].cost(found.colour)
        return cost


class _CostTables(dict[float, "CostTable[Colour]"]):
    """Rows of colours, made when asked for."""

    def __init__(self, make: Callable[[float], CostTable[Colour]]) -> None:
        self._make = make

    def __missing__(self, share: float) -> CostTable[Colour]:
        row = self[share] = self._make(share)
        return row
