"""What two purchases together can't bring a dressing below, told almost without searching.

A dressing's case and the offers come in; the pairs that may bring it nearer than either of the two
alone come out, each with its lower_bound in thousandths. `pairs` starts from them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations_with_replacement

from variants.design.search import Closest
from variants.survey.case import MOST_PARTS, Case, Parts, sets_of
from variants.survey.gains import Keys
from variants.survey.lower_bounds import NEVER
from variants.survey.offers import Offer
from variants.survey.pairs import Pair, PairKey


def bound_pairs(
    case: Case, offers: Sequence[Offer], alone: Mapping[Keys, Closest]
) -> dict[PairKey, int]:
    """Return what no variant is below that has both of a pair on it.

    Parameters
    ----------
    case : Case
    offers : sequence of Offer
    alone : mapping
        How near single purchases bring the dressing; without those that don't.

    Notes
    -----
    Both are on the fly, so each fills a part, alone or beside the other where the part takes
    several. For every set of parts that they may fill between them, they depart at least their own
    cost, and the rest of the fly at least what it departs without those parts and their rules.
    """
    found: dict[PairKey, int] = {}
    for pair in _in_question(case, offers):
        lower_bound = _least_with_both(case, pair)
        keys = pair[0].key, pair[1].key
        singles = [alone[key,].departure for key in keys if (key,) in alone]
        if lower_bound < min([case.departure, *singles]):
            found[keys] = lower_bound
    return found


def _in_question(case: Case, offers: Sequence[Offer]) -> list[Pair]:
    """Return the pairs that together could depart less than the dressing does now."""
    entries: dict[str, list[tuple[int, int]]] = {}
    for number, offer in enumerate(offers):
        for part, cost in case.lower_bounds.of(offer, among=True).items():
            entries.setdefault(part, []).append((cost, number))
    for own in entries.values():
        own.sort()
    lower_bound = case.lower_bounds.lowered_by({part: own[0][0] for part, own in entries.items()})
    whole = sum(lower_bound.values())
    found: set[tuple[int, int]] = set()
    for part, other in combinations_with_replacement(entries, 2):
        if part == other and not case.lower_bounds.takes_several(part):
            continue
        rest = whole - lower_bound[part] - (lower_bound[other] if part != other else 0)
        for cost, first in entries[part]:
            for own_cost, second in entries[other]:
                both = max(cost, own_cost) if part == other else cost + own_cost
                if rest + both >= case.departure:
                    break
                if first != second:
                    found.add((min(first, second), max(first, second)))
    return [(offers[first], offers[second]) for first, second in sorted(found)]


def _least_with_both(case: Case, pair: Pair) -> int:
    costs = case.in_question(pair)
    first, second = (case.lower_bounds.of(one, among=True) for one in pair)
    if len(costs) > MOST_PARTS:
        return sum(case.lower_bounds.lowered_by(costs).values())
    least = case.departure
    for parts in sets_of(costs):
        own = _both_used(parts, first, second, any(map(case.lower_bounds.takes_several, parts)))
        others = sum(cost for part, cost in case.lower_bounds.least.items() if part not in parts)
        if own + others < least:
            least = min(least, own + case.departure_without(parts))
    return least


def _both_used(
    parts: Parts, first: Mapping[str, int], second: Mapping[str, int], may_share: bool
) -> int:
    """Return what two things cost at least that fill some parts between them, both being used."""
    costs = [(first.get(part, NEVER), second.get(part, NEVER)) for part in parts]
    if len(costs) == 1:
        return max(costs[0]) if may_share else NEVER
    whole = sum(map(min, costs))
    if may_share:
        return whole
    # Each fills a part of its own: the one that is nowhere the nearer gives way least.
    return whole + max(min(one[own] - min(one) for one in costs) for own in (0, 1))
