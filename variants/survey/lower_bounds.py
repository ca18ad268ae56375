"""What a purchase departs at least in each part of a dressing, told without any search.

A dressing's design problem and the stock of the box come in; lower bounds come out, in thousandths.
They spare most of the solving: a purchase that even so stands too far off gains nothing.
"""

from __future__ import annotations

from collections.abc import Mapping

from variants.design import DesignProblem, Domain, Stock, may_fill, serving, weighted_sum
from variants.model import HOOK, Ingredient, Part, Term
from variants.rulebook import THOUSANDTHS, Equal
from variants.survey.offers import Offer

#: A departure that nothing reaches: of a dressing that can't be tied.
NEVER = 1 << 40
#: In a blend, or two for one, stuff has at least this share of a part: the finest ratio.
_LEAST_SHARE = 0.25
#: What rounding may take from the terms of a mix, in thousandths: half of one from each.
_ROUNDED = 24


class LowerBounds:
    """Lower bounds for one dressing.

    Parameters
    ----------
    design : DesignProblem
    stock : Stock
        The box as it is.

    Attributes
    ----------
    least : dict of part id to int
        What the nearest filling of each part from the box departs by itself; `NEVER` for none.
    """

    def __init__(self, design: DesignProblem, stock: Stock) -> None:
        self._design, self._stock = design, stock
        self._dressing = design.request.base
        self._parts = {part.id: part for part in self._dressing.parts}
        self.least = _nearest(design)
        self._costs: dict[tuple[tuple[str, ...], bool], dict[str, int]] = {}
        self._nearest_partners: dict[tuple[str, tuple[tuple[str, str], ...]], list[int]] = {}
        self._equal_rules: dict[str, list[Equal]] = {}
        for rule in design.rules:
            if isinstance(rule, Equal):
                self._equal_rules.setdefault(rule.part, []).append(rule)

    def of(self, offer: Offer, *, among: bool = False) -> dict[str, int]:
        """Return what a purchase departs at least in each part that it can serve.

        ``among`` others that are bought it may be mixed with one of them.
        """
        key = offer.key, among
        if key not in self._costs:
            each = {
                part.id: [
                    self._least_cost(way, offer, among)
                    for way in part.ways
                    if self._may_fill(offer, way)
                ]
                for part in self._dressing.parts
            }
            self._costs[key] = {part: min(costs) for part, costs in each.items() if costs}
        return self._costs[key]

    def _may_fill(self, offer: Offer, part: Part) -> bool:
        style, likeness = self._dressing.style, self._design.rulebook.likeness
        return may_fill(offer.ingredient.material, part, style, likeness)

    def lowered_by(self, costs: Mapping[str, int]) -> dict[str, int]:
        """Return what each part departs at least, from the box or of what is bought.

        ``costs`` is by the parts that something bought would fill.
        """
        return {part: min(cost, costs.get(part, NEVER)) for part, cost in self.least.items()}

    def is_mixed(self, part_id: str) -> bool:
        """Tell whether the dressing makes a part of two or more."""
        return any(len(way.ingredients) > 1 for way in self._parts[part_id].ways)

    def takes_several(self, part_id: str) -> bool:
        """Tell whether two things together may fill a part."""
        blended = self._design.rulebook.conventions.blended
        ways = self._parts[part_id].ways
        is_blended = any(way.ingredients[0].material.kind in blended for way in ways)
        return self.is_mixed(part_id) or part_id in self._equal_rules or is_blended

    def goes_with_others(self, part_id: str, offer: Offer) -> bool:
        """Tell whether a purchase may fill a part together with other stuff."""
        ways = self._parts[part_id].ways
        if self.is_mixed(part_id) or any(self._is_blended(way, offer) for way in ways):
            return True
        return any(self._equals(way, offer) for way in ways)

    def _least_cost(self, part: Part, offer: Offer, among: bool) -> int:
        kind = self._design.rulebook.trade.styles[self._dressing.style].part(part.id)
        if part.id == HOOK or kind is None:
            return 0
        conventions = self._design.rulebook.conventions
        count = len(part.ingredients)
        both = [self._terms(part, one, offer) for one in part.ingredients]
        materials, wholes = [one for one, _ in both], [one for _, one in both]
        cost = min(weighted_sum(terms, kind.weight) for terms in wholes)
        if count > 1:
            cost += round(conventions.mixed_part * THOUSANDTHS * kind.weight)
            partners = self._partners(part, kind.weight / count)
            for place, terms in enumerate(wholes):
                others = 0 if among else sum(partners) - partners[place]
                cost = min(cost, weighted_sum(terms, kind.weight / count) + others)
        for rule in self._equals(part, offer):
            least = min(weighted_sum(terms, kind.weight * _LEAST_SHARE) for terms in materials)
            cost = min(cost, least + round(rule.cost * THOUSANDTHS * kind.weight))
        if count == 1 and self._is_blended(part, offer):
            least = weighted_sum(materials[0], kind.weight * _LEAST_SHARE)
            trouble = conventions.blend_trouble * THOUSANDTHS
            cost = min(cost, least + round(trouble * kind.weight))
        return max(0, cost - _ROUNDED) if self.goes_with_others(part.id, offer) else cost

    def _partners(self, part: Part, share: float) -> list[int]:
        """Return what the nearest stuff of the box departs in place of each ingredient of a mix."""
        key = part.id, tuple([one.key for one in part.ingredients])
        if key not in self._nearest_partners:
            likeness = self._design.rulebook.likeness
            found = serving(self._stock, part, self._dressing.style, likeness)
            served = [Offer(stuff.ingredient) for own in found for stuff in own]
            self._nearest_partners[key] = [
                min(
                    (
                        weighted_sum(self._terms(part, wanted, one)[1], share)
                        for one in served
                        if one.ingredient.material.kind == wanted.material.kind
                    ),
                    default=NEVER,
                )
                for wanted in part.ingredients
            ]
        return self._nearest_partners[key]

    def _terms(
        self, part: Part, wanted: Ingredient, offer: Offer
    ) -> tuple[tuple[Term, ...], tuple[Term, ...]]:
        """Return the terms of a purchase's material, and of its material and colour."""
        likeness, found = self._design.rulebook.likeness, offer.ingredient
        where = (part.id, self._dressing.style)
        material = likeness.material(wanted.material, found.material, *where)
        return material, likeness.ingredient(wanted, found, *where)

    def _equals(self, part: Part, offer: Offer) -> list[Equal]:
        """Return the rules by which a purchase stands for a mix, or in a mix for a part."""
        rules, found = self._equal_rules.get(part.id), offer.ingredient.colour
        if not rules or found is None:
            return []
        written = {one.colour.id for one in part.ingredients if one.colour}
        if len(part.ingredients) > 1:
            return [one for one in rules if one.mixed == written and found.id in one.single]
        return [
            one
            for one in rules
            if one.both_ways and written <= one.single and found.id in one.mixed
        ]

    def _is_blended(self, part: Part, offer: Offer) -> bool:
        blended = self._design.rulebook.conventions.blended
        kinds = {part.ingredients[0].material.kind, offer.ingredient.material.kind}
        return kinds <= set(blended)


def _nearest(design: DesignProblem) -> dict[str, int]:
    least = {}
    for part, domain in design.domains.items():
        assert isinstance(domain, Domain)  # as built from a box
        cost = domain.cost(0)
        least[part] = NEVER if cost is None else cost
    return least
