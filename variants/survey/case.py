"""One dressing and one box, solved again with something bought.

A dressing comes in; how near its closest variant comes with one purchase or with several goes out.

Notes
-----
A variant that is new has something bought in exactly some set of its parts, and in all others what
the box held already. So for each such set the dressing is solved with only what is bought in those
parts (with the box as well, where it would go in a mix or a blend), and the least of all is the
answer. A set is passed over where it can't be nearer than what is known already: what is bought
departs at least its own cost in each part of the set, and the rest of the fly, solved by itself
once and for all without those parts and the rules that speak of them, departs at least that.
Leaving rules out never makes a fly depart more, so nothing is passed over that would have gained.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from variants.design import (
    DesignProblem,
    Domain,
    Request,
    Stock,
    build_problem,
    filled_domain,
    gc_paused,
)
from variants.design.search import Closest, IncrementalSearch, search
from variants.model import Candidate
from variants.rulebook import Rulebook
from variants.survey.lower_bounds import NEVER, LowerBounds
from variants.survey.offers import BOUGHT, Offer, lot_of

#: With more parts in question the dressing is solved anew with all that is bought.
MOST_PARTS = 5

Parts = frozenset[str]


class Case:
    """A dressing and how it stands with the box as it is.

    Parameters
    ----------
    request : Request
    rulebook : Rulebook
    stock : Stock
        The request's box.

    Attributes
    ----------
    departure : int
        Of its closest variant; `NEVER` where there is none.
    changed : tuple of str
        Parts that the closest variant changes, or that nothing in the box can be.
    lower_bounds : Floors
    """

    @gc_paused()
    def __init__(self, request: Request, rulebook: Rulebook, stock: Stock) -> None:
        self._design = build_problem(request, rulebook, stock)
        self._stock = stock
        self._search = IncrementalSearch(self._design)
        self.lower_bounds = LowerBounds(self._design, stock)
        empty = self._design.empty_parts
        closest = None if empty else self._search.find_closest()
        self.departure, self.changed = NEVER, empty
        if closest is not None:
            self.departure = closest.departure
            self.changed = tuple(
                part for part, candidate in closest.chosen.items() if candidate.is_changed
            )
        self._order = tuple(self._design.domains)
        self._rest: dict[Parts, Closest | None] = {}
        self._found: dict[tuple[tuple[str, ...], ...], Closest | None] = {}

    @gc_paused()
    def with_bought(self, offers: Sequence[Offer]) -> Closest | None:
        """Return the closest variant with something bought; None when it is no nearer."""
        if not self.departure:
            return None
        costs = self.in_question(offers)
        among = len(offers) > 1
        serving = [
            one for one in offers if costs.keys() & self.lower_bounds.of(one, among=among).keys()
        ]
        if not serving:
            return None
        known = tuple(one.key for one in serving)
        if known not in self._found:
            self._found[known] = self._solve(serving, costs)
        return self._found[known]

    def departure_without(self, parts: Parts) -> int:
        """Return what the rest of a fly departs at least, whatever fills some parts."""
        closest = self._solve_without(parts)
        return NEVER if closest is None else closest.departure

    def _solve_without(self, parts: Parts) -> Closest | None:
        if parts not in self._rest:
            self._rest[parts] = self._search.find_closest(without=parts)
        return self._rest[parts]

    def _solve(self, offers: Sequence[Offer], costs: dict[str, int]) -> Closest | None:
        if len(costs) > MOST_PARTS:
            return self._solve_again(offers)
        nearest: Closest | None = None
        limit = self.departure
        filled: dict[str, Domain] = {}
        for parts in sets_of(costs):
            if self._bound(parts, costs) >= limit:
                continue
            for part in sorted(parts - filled.keys()):
                filled[part] = self._fill(part, offers)
                if limit < NEVER and not self.lower_bounds.is_mixed(part):
                    lower_bound = self.lower_bounds.lowered_by(costs)
                    others = sum(lower_bound.values()) - lower_bound[part]
                    told = _cost_with_bought(filled[part], limit - others)
                    costs[part] = max(costs[part], told)
            if self._bound(parts, costs) >= limit:
                continue
            for closest in self._find_closest(parts, filled, costs, limit):
                nearest, limit = closest, closest.departure
        return nearest

    def _solve_again(self, offers: Sequence[Offer]) -> Closest | None:
        design = self._design
        lots = [lot_of(offer, number) for number, offer in enumerate(offers)]
        stock = Stock((*self._stock.lots, *lots))
        found = search(build_problem(design.request, design.rulebook, stock), 1).variants
        if not found or found[0].departure >= self.departure:
            return None
        return Closest(found[0].departure, dict(found[0].chosen))

    def _find_closest(
        self, parts: Parts, filled: Mapping[str, Domain], costs: Mapping[str, int], limit: int
    ) -> Iterator[Closest]:
        """Yield ever closer variants below a limit with just these parts filled otherwise."""
        for closest in self._fill_rest(parts, filled):
            if closest.departure < limit:
                limit = closest.departure
                yield closest
        if limit > self._bound(parts, costs):
            own = {part: filled[part] for part in parts}
            found = self._search.find_closest(own, below=limit if limit < NEVER else None)
            if found is not None:
                yield found

    def _fill_rest(self, parts: Parts, filled: Mapping[str, Domain]) -> Iterator[Closest]:
        """Yield the closest rest of a fly with each of the nearest that fill a part.

        Where one departs no more than the bound it is the answer, and nothing need be searched.
        """
        rest = self._solve_without(parts)
        (part, *more) = parts
        if more or rest is None or filled[part].cost(0) is None:
            return
        for candidate in filled[part].made(0):
            fly = {name: candidate if name == part else rest.chosen[name] for name in self._order}
            told = _tell_cost(self._design, fly, part)
            if told is not None:
                yield Closest(rest.departure + candidate.cost + told, fly)

    def _bound(self, parts: Parts, costs: Mapping[str, int]) -> int:
        """Return what no variant is below that has something bought in just these parts."""
        own = sum(costs[part] for part in parts)
        others = sum(cost for part, cost in self.lower_bounds.least.items() if part not in parts)
        if own + others >= self.departure:
            return own + others
        return own + self.departure_without(parts)

    def _fill(self, part: str, offers: Sequence[Offer]) -> Domain:
        """Return what fills a part with something bought: alone, or with what the box holds."""
        bought = tuple(lot_of(one, number) for number, one in enumerate(offers))
        if any(self.lower_bounds.goes_with_others(part, one) for one in offers):
            stock = Stock((*self._stock.lots, *bought))
            return filled_domain(self._design, part, stock, {one.ingredient.key for one in offers})
        return filled_domain(self._design, part, Stock(bought))

    def in_question(self, offers: Sequence[Offer]) -> dict[str, int]:
        """Return what departs least of what is bought, for the parts where it may gain anything."""
        costs: dict[str, int] = {}
        for offer in offers:
            for part, cost in self.lower_bounds.of(offer, among=len(offers) > 1).items():
                costs[part] = min(cost, costs.get(part, NEVER))
        lower_bound = self.lower_bounds.lowered_by(costs)
        whole = sum(lower_bound.values())
        return {
            part: cost
            for part, cost in costs.items()
            if whole - lower_bound[part] + cost < self.departure
        }


def _tell_cost(design: DesignProblem, fly: Mapping[str, Candidate], part: str) -> int | None:
    """Return what the constraints that look at a part add, or None when one forbids the fly."""
    added = 0
    for constraint in design.constraints:
        if part in constraint.parts:
            verdict = constraint.verdict([fly[name] for name in constraint.parts])
            if verdict is None:
                return None
            added += verdict
    return added


def _cost_with_bought(domain: Domain, most: int) -> int:
    """Return what the nearest candidate with something bought departs, or at least ``most``."""
    place = 0
    while (cost := domain.cost(place)) is not None and cost < most:
        for candidate in domain.made(place):
            if any(item.id.startswith(BOUGHT) for items in candidate.items for item in items):
                return cost
        place += 1
    return most


def sets_of(costs: Mapping[str, int]) -> Iterator[Parts]:
    """Yield every set of some parts, small ones first."""
    for size in range(1, len(costs) + 1):
        for parts in combinations(costs, size):
            yield frozenset(parts)
