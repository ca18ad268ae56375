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
from itertools import combinations, combinations_with_replacement

from variants.model import Candidate
from variants.problem import (
    DesignProblem,
    Domain,
    Request,
    Stock,
    build_problem,
    filled_domain,
    uncollected,
)
from variants.rulebook import Rulebook
from variants.search import Closest, SearchedAgain, search
from variants.survey.floors import NEVER, Floors
from variants.survey.gains import Keys
from variants.survey.offers import BOUGHT, Offer, lot_of
from variants.survey.pairs import PairKey

#: With more parts in question the dressing is solved anew with all that is bought.
_MOST_PARTS = 5

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
    floors : Floors
    """

    @uncollected()
    def __init__(self, request: Request, rulebook: Rulebook, stock: Stock) -> None:
        self._design = build_problem(request, rulebook, stock)
        self._stock = stock
        self._again = SearchedAgain(self._design)
        self.floors = Floors(self._design, stock)
        empty = self._design.empty_parts
        closest = None if empty else self._again.closest()
        self.departure, self.changed = NEVER, empty
        if closest is not None:
            self.departure = closest.departure
            self.changed = tuple(
                part for part, candidate in closest.chosen.items() if candidate.is_changed
            )
        self._order = tuple(self._design.domains)
        self._rest: dict[Parts, Closest | None] = {}
        self._found: dict[tuple[tuple[str, ...], ...], Closest | None] = {}

    @uncollected()
    def with_bought(self, offers: Sequence[Offer]) -> Closest | None:
        """Return the closest variant with something bought; None when it is no nearer."""
        if not self.departure:
            return None
        costs = self._costs_in_question(offers)
        among = len(offers) > 1
        serving = [one for one in offers if costs.keys() & self.floors.of(one, among=among).keys()]
        if not serving:
            return None
        known = tuple(one.key for one in serving)
        if known not in self._found:
            self._found[known] = self._solved(serving, costs)
        return self._found[known]

    def floors_of_pairs(
        self, offers: Sequence[Offer], alone: Mapping[Keys, Closest]
    ) -> dict[PairKey, int]:
        """Return what no variant is below with two things bought, where that may be nearer.

        Only those pairs are told that may bring the dressing nearer than either of the two alone;
        ``alone`` tells how near that is.
        """
        found: dict[PairKey, int] = {}
        for pair in self._pairs_in_question(offers):
            floor = self._least_with_both(pair)
            keys = pair[0].key, pair[1].key
            nearest = min(
                [self.departure, *(alone[key,].departure for key in keys if (key,) in alone)]
            )
            if floor < nearest:
                found[keys] = floor
        return found

    def _pairs_in_question(self, offers: Sequence[Offer]) -> list[tuple[Offer, Offer]]:
        """Return the pairs that together could depart less than the dressing does now."""
        entries: dict[str, list[tuple[int, int]]] = {}
        for number, offer in enumerate(offers):
            for part, cost in self.floors.of(offer, among=True).items():
                entries.setdefault(part, []).append((cost, number))
        for own in entries.values():
            own.sort()
        floor = self._floor({part: own[0][0] for part, own in entries.items()})
        whole = sum(floor.values())
        found: set[tuple[int, int]] = set()
        for part, other in combinations_with_replacement(entries, 2):
            if part == other and not self._takes_several(part):
                continue
            rest = whole - floor[part] - (floor[other] if part != other else 0)
            for cost, first in entries[part]:
                for own_cost, second in entries[other]:
                    both = max(cost, own_cost) if part == other else cost + own_cost
                    if rest + both >= self.departure:
                        break
                    if first != second:
                        found.add((min(first, second), max(first, second)))
        return [(offers[first], offers[second]) for first, second in sorted(found)]

    def _takes_several(self, part: str) -> bool:
        """Tell whether any part may be filled by two things together."""
        return self.floors.is_mixed(part) or self.floors.may_be_joined(part)

    def _least_with_both(self, pair: tuple[Offer, Offer]) -> int:
        """Return what no variant is below that has both of a pair on it."""
        costs = self._costs_in_question(pair)
        first, second = (self.floors.of(one, among=True) for one in pair)
        if len(costs) > _MOST_PARTS:
            floor = self._floor(costs)
            return sum(floor.values())
        least = self.departure
        for parts in _sets_of(costs):
            own = _both_used(parts, first, second, any(map(self._takes_several, parts)))
            others = sum(cost for part, cost in self.floors.least.items() if part not in parts)
            if own + others < least and own + self.departure_without(parts) < least:
                least = own + self.departure_without(parts)
        return least

    def departure_without(self, parts: Parts) -> int:
        """Return what the rest of a fly departs at least, whatever fills some parts."""
        closest = self._rest_without(parts)
        return NEVER if closest is None else closest.departure

    def _rest_without(self, parts: Parts) -> Closest | None:
        if parts not in self._rest:
            self._rest[parts] = self._again.closest(without=parts)
        return self._rest[parts]

    def _solved(self, offers: Sequence[Offer], costs: dict[str, int]) -> Closest | None:
        if len(costs) > _MOST_PARTS:
            return self._solved_anew(offers)
        nearest: Closest | None = None
        limit = self.departure
        filled: dict[str, Domain] = {}
        for parts in _sets_of(costs):
            if self._bound(parts, costs) >= limit:
                continue
            for part in sorted(parts - filled.keys()):
                filled[part] = self._filled(part, offers)
                if limit < NEVER and not self.floors.is_mixed(part):
                    floor = self._floor(costs)
                    others = sum(floor.values()) - floor[part]
                    told = _cost_with_bought(filled[part], limit - others)
                    costs[part] = max(costs[part], told)
            if self._bound(parts, costs) >= limit:
                continue
            for closest in self._closest_with(parts, filled, costs, limit):
                nearest, limit = closest, closest.departure
        return nearest

    def _solved_anew(self, offers: Sequence[Offer]) -> Closest | None:
        design = self._design
        lots = [lot_of(offer, number) for number, offer in enumerate(offers)]
        stock = Stock((*self._stock.lots, *lots))
        found = search(build_problem(design.request, design.rulebook, stock), 1).variants
        if not found or found[0].departure >= self.departure:
            return None
        return Closest(found[0].departure, dict(found[0].chosen))

    def _closest_with(
        self, parts: Parts, filled: Mapping[str, Domain], costs: Mapping[str, int], limit: int
    ) -> Iterator[Closest]:
        """Yield ever closer variants below a limit with just these parts filled otherwise."""
        for closest in self._put_into_the_rest(parts, filled):
            if closest.departure < limit:
                limit = closest.departure
                yield closest
        if limit > self._bound(parts, costs):
            own = {part: filled[part] for part in parts}
            found = self._again.closest(own, below=limit if limit < NEVER else None)
            if found is not None:
                yield found

    def _put_into_the_rest(self, parts: Parts, filled: Mapping[str, Domain]) -> Iterator[Closest]:
        """Yield the closest rest of a fly with each of the nearest that fill a part.

        Where one departs no more than the bound it is the answer, and nothing need be searched.
        """
        rest = self._rest_without(parts)
        (part, *more) = parts
        if more or rest is None or filled[part].cost(0) is None:
            return
        for candidate in filled[part].made(0):
            fly = {name: candidate if name == part else rest.chosen[name] for name in self._order}
            told = _told_of(self._design, fly, part)
            if told is not None:
                yield Closest(rest.departure + candidate.cost + told, fly)

    def _bound(self, parts: Parts, costs: Mapping[str, int]) -> int:
        """Return what no variant is below that has something bought in just these parts."""
        own = sum(costs[part] for part in parts)
        others = sum(cost for part, cost in self.floors.least.items() if part not in parts)
        if own + others >= self.departure:
            return own + others
        return own + self.departure_without(parts)

    def _filled(self, part: str, offers: Sequence[Offer]) -> Domain:
        """Return what fills a part with something bought: alone, or with what the box holds."""
        bought = tuple(lot_of(one, number) for number, one in enumerate(offers))
        if any(self.floors.goes_with_others(part, one) for one in offers):
            stock = Stock((*self._stock.lots, *bought))
            return filled_domain(self._design, part, stock, {one.ingredient.key for one in offers})
        return filled_domain(self._design, part, Stock(bought))

    def _costs_in_question(self, offers: Sequence[Offer]) -> dict[str, int]:
        """Return what departs least of what is bought, for the parts where it may gain anything."""
        costs: dict[str, int] = {}
        for offer in offers:
            for part, cost in self.floors.of(offer, among=len(offers) > 1).items():
                costs[part] = min(cost, costs.get(part, NEVER))
        floor = self._floor(costs)
        whole = sum(floor.values())
        return {
            part: cost
            for part, cost in costs.items()
            if whole - floor[part] + cost < self.departure
        }

    def _floor(self, costs: Mapping[str, int]) -> dict[str, int]:
        """Return what each part departs at least, from the box or of what is bought."""
        return {part: min(cost, costs.get(part, NEVER)) for part, cost in self.floors.least.items()}


def _told_of(design: DesignProblem, fly: Mapping[str, Candidate], part: str) -> int | None:
    """Return what the constraints that look at a part add, or None when one forbids the fly."""
    added = 0
    for constraint in design.constraints:
        if part in constraint.parts:
            verdict = constraint.verdict([fly[name] for name in constraint.parts])
            if verdict is None:
                return None
            added += verdict
    return added


def _both_used(
    parts: Parts, first: Mapping[str, int], second: Mapping[str, int], may_share: bool
) -> int:
    """Return what two things cost at least that fill some parts between them, both being used.

    Where they may share a part, each of them may be used beside the other.
    """
    least = {part: min(first.get(part, NEVER), second.get(part, NEVER)) for part in parts}
    whole = sum(least.values())
    if len(parts) == 1:
        (part,) = parts
        return max(first.get(part, NEVER), second.get(part, NEVER)) if may_share else NEVER
    if may_share:
        return whole
    spared = [min(own.get(part, NEVER) - least[part] for part in parts) for own in (first, second)]
    return whole + max(spared)


def _cost_with_bought(domain: Domain, most: int) -> int:
    """Return what the nearest candidate with something bought departs, or at least ``most``."""
    place = 0
    while (cost := domain.cost(place)) is not None and cost < most:
        for candidate in domain.made(place):
            if any(item.id.startswith(BOUGHT) for items in candidate.items for item in items):
                return cost
        place += 1
    return most


def _sets_of(costs: Mapping[str, int]) -> Iterator[Parts]:
    for size in range(1, len(costs) + 1):
        for parts in combinations(costs, size):
            yield frozenset(parts)
