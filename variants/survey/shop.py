"""A book and a box, ready to be solved again with something bought.

What is bought goes in; how near each dressing's closest variant then comes, and what that gains for
the book, comes out.

Notes
-----
A variant that is new has something bought in exactly some set of its parts, and in all others what
the box held already. So for each such set the dressing is solved with only what is bought in those
parts (with the box as well, where it would go in a mix or a blend), and the least of all is the
answer. A set is passed over where it can't be nearer than what the dressing departs already: what
is bought departs at least its own cost in each part of the set, and the rest of the fly, solved by
itself once and for all without those parts and the rules that speak of them, departs at least that.
Leaving rules out never makes a fly depart more, so nothing is passed over that would have gained.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from variants.model import Box, Candidate, Dressing, Ingredient, Part, Term
from variants.problem import (
    DesignProblem,
    Domain,
    Stock,
    build_problem,
    filled_domain,
    stock_of,
    uncollected,
    weighted_sum,
)
from variants.rulebook import THOUSANDTHS, Equal, Rulebook
from variants.search import search
from variants.survey.offers import BOUGHT, HOOK, Offer, lot_of
from variants.survey.survey import Wishes

#: A departure that nothing reaches: of a dressing that can't be tied.
NEVER = 1 << 40
#: In a blend, or two for one, stuff has at least this share of a part: the finest ratio.
_LEAST_SHARE = 0.25
#: What rounding may take from the terms of a mix, in thousandths: half of one from each.
_ROUNDED = 24
#: With more parts in question the dressing is solved anew with all that is bought.
_MOST_PARTS = 5


@dataclass(frozen=True, slots=True)
class Gain:
    """What one purchase, or several together, do for the book.

    Attributes
    ----------
    offers : tuple of Offer
    opened : tuple of str
        Names of dressings that could not be tied, or departed too far, and now can.
    as_written : tuple of str
        Names of dressings that can now be tied as written.
    saved : int
        Thousandths: by how much the departure of the dressings that could be tied falls in sum.
    """

    offers: tuple[Offer, ...]
    opened: tuple[str, ...]
    as_written: tuple[str, ...]
    saved: int

    @property
    def price(self) -> float | None:
        """What it costs in all; None when a price is not known."""
        prices = [one.price for one in self.offers]
        return None if None in prices else sum(price for price in prices if price is not None)

    @property
    def rank(self) -> tuple[object, ...]:
        """Best first: dressings opened, tied as written, departure saved; then price and name."""
        return (
            -len(self.opened),
            -len(self.as_written),
            -self.saved,
            self.price if self.price is not None else float("inf"),
            [one.key for one in self.offers],
        )


@dataclass
class Case:
    """One dressing and how it stands with the box as it is.

    Attributes
    ----------
    dressing : Dressing
    design : DesignProblem
    stock : Stock
        The box as it is.
    departure : int
        Of its closest variant; `NEVER` where there is none.
    least : dict of part id to int
        What the nearest filling of each part departs.
    changed : tuple of str
        Parts that the closest variant changes, or that nothing in the box can be.
    """

    dressing: Dressing
    design: DesignProblem
    stock: Stock
    departure: int
    least: dict[str, int]
    changed: tuple[str, ...] = ()
    _costs: dict[tuple[str, ...], dict[str, int]] = field(default_factory=dict)
    _rest: dict[frozenset[str], tuple[int, Mapping[str, Candidate] | None]] = field(
        default_factory=dict
    )
    _nearest_partners: dict[str, list[int]] = field(default_factory=dict)
    _found: dict[tuple[tuple[str, ...], ...], int] = field(default_factory=dict)

    def with_bought(self, offers: Sequence[Offer], stock: Stock) -> int:
        """Return what the closest variant departs with something bought.

        Parameters
        ----------
        offers : sequence of Offer
        stock : Stock
            The box with all of them in it.
        """
        if not self.departure:
            return 0
        costs = self._costs_in_question(offers)
        serving = [
            one for one in offers if costs.keys() & self._costs_of(one, len(offers) > 1).keys()
        ]
        known = tuple(one.key for one in serving)
        if known not in self._found:
            self._found[known] = self._solved(serving, costs, stock) if serving else self.departure
        return self._found[known]

    def _solved(self, offers: Sequence[Offer], costs: dict[str, int], stock: Stock) -> int:
        if len(costs) > _MOST_PARTS:
            found = search(build_problem(self.design.request, self.design.rulebook, stock), 1)
            return min([self.departure, *(one.departure for one in found.variants)])
        nearest = self.departure
        filled: dict[str, Domain] = {}
        for parts in _sets_of(costs):
            if self._bound(parts, costs) >= nearest:
                continue
            for part in sorted(parts - filled.keys()):
                filled[part] = self._filled(part, offers, stock)
                if nearest < NEVER and not self._is_mixed(part):
                    others = sum(self._floors(costs).values()) - self._floors(costs)[part]
                    told = _cost_with_bought(filled[part], nearest - others)
                    costs[part] = max(costs[part], told)
            if self._bound(parts, costs) >= nearest:
                continue
            seen = self._put_into_the_rest(parts, filled)
            if seen > self._bound(parts, costs):
                domains = {**self.design.domains, **{part: filled[part] for part in parts}}
                found = search(replace(self.design, domains=domains), 1)
                seen = min([seen, *(one.departure for one in found.variants)])
            nearest = min(nearest, seen)
        return nearest

    def _put_into_the_rest(self, parts: frozenset[str], filled: Mapping[str, Domain]) -> int:
        """Return what the closest rest of a fly departs with the nearest of what fills a part.

        Where that is no more than the bound it is the answer, and nothing need be searched.
        """
        self._departure_without(parts)
        rest, chosen = self._rest[parts]
        (part, *more) = parts
        if more or chosen is None or filled[part].cost(0) is None:
            return NEVER
        least = NEVER
        for candidate in filled[part].made(0):
            fly = {**chosen, part: candidate}
            told = [
                constraint.verdict([fly[name] for name in constraint.parts])
                for constraint in self.design.constraints
                if part in constraint.parts
            ]
            if None not in told:
                least = min(least, rest + candidate.cost + sum(cost or 0 for cost in told))
        return least

    def _bound(self, parts: frozenset[str], costs: Mapping[str, int]) -> int:
        """Return what no variant is below that has something bought in just these parts."""
        own = sum(costs[part] for part in parts)
        others = sum(cost for part, cost in self.least.items() if part not in parts)
        if own + others >= self.departure:
            return own + others
        return own + self._departure_without(parts)

    def _filled(self, part: str, offers: Sequence[Offer], stock: Stock) -> Domain:
        """Return what fills a part with something bought: alone, or with what the box holds."""
        if any(self._goes_with_others(part, one) for one in offers):
            return filled_domain(self.design, part, stock)
        bought = Stock(tuple(lot_of(one, number) for number, one in enumerate(offers)))
        return filled_domain(self.design, part, bought)

    def _departure_without(self, parts: frozenset[str]) -> int:
        """Return what the rest of a fly departs at least, whatever fills some parts."""
        if parts not in self._rest:
            design = self.design
            others = {name: one for name, one in design.domains.items() if name not in parts}
            constraints = tuple(one for one in design.constraints if not parts & set(one.parts))
            found = search(replace(design, domains=others, constraints=constraints), 1).variants
            self._rest[parts] = (found[0].departure, found[0].chosen) if found else (NEVER, None)
        return self._rest[parts][0]

    def _costs_in_question(self, offers: Sequence[Offer]) -> dict[str, int]:
        """Return what departs least of what is bought, for the parts where it may gain anything."""
        costs: dict[str, int] = {}
        for offer in offers:
            for part, cost in self._costs_of(offer, len(offers) > 1).items():
                costs[part] = min(cost, costs.get(part, NEVER))
        floor = self._floors(costs)
        whole = sum(floor.values())
        return {
            part: cost
            for part, cost in costs.items()
            if whole - floor[part] + cost < self.departure
        }

    def _floors(self, costs: Mapping[str, int]) -> dict[str, int]:
        """Return what each part departs at least, from the box or of what is bought."""
        return {part: min(cost, costs.get(part, NEVER)) for part, cost in self.least.items()}

    def _costs_of(self, offer: Offer, among: bool) -> dict[str, int]:
        """Return what a purchase costs at least in each part that it can serve."""
        key = (*offer.key, "among others" if among else "")
        if key not in self._costs:
            functions = offer.ingredient.material.functions
            parts = self.design.rulebook.trade.parts
            self._costs[key] = {
                part.id: self._least_cost(part, offer, among)
                for part in self.dressing.parts
                if functions & parts[part.id].functions
            }
        return self._costs[key]

    def _least_cost(self, part: Part, offer: Offer, among: bool) -> int:
        """Return a departure that no filling of a part with a purchase is below.

        ``among`` others that are bought it may be mixed with one of them.
        """
        kind = self.design.rulebook.trade.styles[self.dressing.style].part(part.id)
        if part.id == HOOK or kind is None:
            return 0
        count = len(part.ingredients)
        both = [self._terms(part, one, offer) for one in part.ingredients]
        materials, wholes = [one for one, _ in both], [one for _, one in both]
        cost = min(weighted_sum(terms, kind.weight) for terms in wholes)
        if count > 1:
            lost = self.design.rulebook.conventions.mixed_part * THOUSANDTHS
            cost += round(lost * kind.weight)
            partners = self._partners(part, kind.weight / count)
            for place, terms in enumerate(wholes):
                others = 0 if among else sum(partners) - partners[place]
                cost = min(cost, weighted_sum(terms, kind.weight / count) + others)
        for rule in self._equals(part, offer):
            least = min(weighted_sum(terms, kind.weight * _LEAST_SHARE) for terms in materials)
            cost = min(cost, least + round(rule.cost * THOUSANDTHS * kind.weight))
        if count == 1 and self._is_blended(part, offer):
            trouble = self.design.rulebook.conventions.blend_trouble * THOUSANDTHS
            least = weighted_sum(materials[0], kind.weight * _LEAST_SHARE)
            cost = min(cost, least + round(trouble * kind.weight))
        return max(0, cost - _ROUNDED) if self._goes_with_others(part.id, offer) else cost

    def _partners(self, part: Part, share: float) -> list[int]:
        """Return what the nearest stuff of the box departs in place of each ingredient of a mix."""
        if part.id not in self._nearest_partners:
            functions = self.design.rulebook.trade.parts[part.id].functions
            served = [Offer(stuff.ingredient) for stuff in self.stock.serving(functions)]
            self._nearest_partners[part.id] = [
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
        return self._nearest_partners[part.id]

    def _terms(
        self, part: Part, wanted: Ingredient, offer: Offer
    ) -> tuple[tuple[Term, ...], tuple[Term, ...]]:
        """Return the terms of a purchase's material, and of its material and colour."""
        likeness, found = self.design.rulebook.likeness, offer.ingredient
        where = (part.id, self.dressing.style)
        material = likeness.material(wanted.material, found.material, *where)
        return material, (*material, *likeness.colour(wanted.colour, found.colour, *where))

    def _equals(self, part: Part, offer: Offer) -> list[Equal]:
        """Return the rules by which a purchase stands for a mix, or in a mix for a part."""
        found = offer.ingredient.colour
        written = {one.colour.id for one in part.ingredients if one.colour}
        if found is None:
            return []
        is_mixed = len(part.ingredients) > 1
        return [
            rule
            for rule in self.design.rules
            if isinstance(rule, Equal)
            and rule.part == part.id
            and (
                (rule.mixed == written and found.id in rule.single)
                if is_mixed
                else (rule.both_ways and written <= rule.single and found.id in rule.mixed)
            )
        ]

    def _is_mixed(self, part_id: str) -> bool:
        part = self.dressing.part(part_id)
        return part is not None and len(part.ingredients) > 1

    def _is_blended(self, part: Part, offer: Offer) -> bool:
        blended = self.design.rulebook.conventions.blended
        kinds = {part.ingredients[0].material.kind, offer.ingredient.material.kind}
        return kinds <= set(blended)

    def _goes_with_others(self, part_id: str, offer: Offer) -> bool:
        """Tell whether a purchase may fill a part together with what the box holds."""
        part = self.dressing.part(part_id)
        if part is None or len(part.ingredients) > 1 or self._is_blended(part, offer):
            return True
        return bool(self._equals(part, offer))


def _cost_with_bought(domain: Domain, most: int) -> int:
    """Return what the nearest candidate with something bought departs, or at least ``most``."""
    place = 0
    while (cost := domain.cost(place)) is not None and cost < most:
        for candidate in domain.made(place):
            if any(item.id.startswith(BOUGHT) for items in candidate.items for item in items):
                return cost
        place += 1
    return most


def _sets_of(costs: Mapping[str, int]) -> Iterator[frozenset[str]]:
    for size in range(1, len(costs) + 1):
        for parts in combinations(costs, size):
            yield frozenset(parts)


class Shop:
    """A book and a box, to be tried with one purchase after another.

    Parameters
    ----------
    box : Box
    rulebook : Rulebook
    wishes : Wishes
    at_most : int or None
        Thousandths: what departs more counts as not tieable.
    """

    def __init__(self, box: Box, rulebook: Rulebook, wishes: Wishes, at_most: int | None) -> None:
        self.rulebook, self.wishes, self.at_most = rulebook, wishes, at_most
        self.cases: list[Case] = []
        self._box, self._stock = box, stock_of(box, wishes.missing)

    @uncollected()
    def look_at(self, dressing: Dressing) -> None:
        """Take a dressing into the book, and see how it stands with the box as it is."""
        request = self.wishes.request(dressing, self._box)
        design = build_problem(request, self.rulebook, self._stock)
        found = search(design, 1).variants
        departure = found[0].departure if found else NEVER
        changed = found[0].changed if found else design.empty_parts
        self.cases.append(Case(dressing, design, self._stock, departure, _nearest(design), changed))

    def is_tieable(self, departure: int) -> bool:
        """Tell whether a departure counts as tieable."""
        return departure < NEVER and (self.at_most is None or departure <= self.at_most)

    @uncollected()
    def gain(self, offers: tuple[Offer, ...]) -> Gain | None:
        """Return what purchases do for the book; None when they do nothing."""
        lots = [lot_of(offer, number) for number, offer in enumerate(offers)]
        stock = Stock((*self._stock.lots, *lots))
        opened, as_written, saved = [], [], 0
        for case in self.cases:
            departure = case.with_bought(offers, stock)
            if departure >= case.departure:
                continue
            if self.is_tieable(departure) and not self.is_tieable(case.departure):
                opened.append(case.dressing.name)
            if departure == 0:
                as_written.append(case.dressing.name)
            if case.departure < NEVER:
                saved += case.departure - departure
        if not opened and not saved:
            return None
        return Gain(offers, tuple(opened), tuple(as_written), saved)


def _nearest(design: DesignProblem) -> dict[str, int]:
    """Return what the nearest filling of each part departs by itself."""
    least = {}
    for part, domain in design.domains.items():
        assert isinstance(domain, Domain)  # as built from a box
        cost = domain.cost(0)
        least[part] = NEVER if cost is None else cost
    return least
