"""What may fill each part of a regional variant: the domain's candidates, and in the counts asked.

A rule of counts lets a water's turns and fibres range; a variant takes the one nearest to the
dressing. For a region each candidate stands also with the count that the target asks, so that
whether to go so far is for the front to tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import count as counting
from itertools import takewhile

from variants.design import DesignProblem, Domain, Watch, pieces_taken, share_taken
from variants.model import Attributes, Candidate, Value
from variants.regions.target import BEHIND, FRONT, TURNS, RegionalTarget
from variants.rulebook import Count, Rule, Rulebook


def regional_choices(
    design: DesignProblem, target: RegionalTarget, within: int, watch: Watch | None = None
) -> dict[str, list[Candidate]]:
    """Return the candidates for each part that a variant may take.

    Parameters
    ----------
    design : DesignProblem
    target : Target
    within : int
        Thousandths that a variant may depart at most; candidates too far for that are left out.
    watch : Watch, optional

    Raises
    ------
    TimeUpError
        When the watch says so.
    """
    watch = watch or Watch()
    least = {part: _least_cost(domain) for part, domain in design.domains.items()}
    slack = within - sum(least.values())
    counts = counts_by_part(design.rules)
    return {
        part: [
            varied
            for candidate in _take_near(domain, least[part] + slack, watch)
            for varied in set_counts(candidate, counts.get(part, ()), target)
        ]
        for part, domain in design.domains.items()
    }


def _least_cost(domain: Sequence[Candidate]) -> int:
    if isinstance(domain, Domain):
        return domain.cost(0) or 0
    return min((candidate.cost for candidate in domain), default=0)


def _take_near(domain: Sequence[Candidate], most: int, watch: Watch) -> Iterator[Candidate]:
    """Yield the candidates that alone depart no more than so far."""
    if not isinstance(domain, Domain):
        yield from (candidate for candidate in domain if candidate.cost <= most)
        return
    for place in takewhile(lambda at: _is_within(domain, at, most, watch), counting()):
        yield from domain.made(place)


def _is_within(domain: Domain, place: int, most: int, watch: Watch) -> bool:
    cost = domain.cost(place, watch)
    return cost is not None and cost <= most


def counts_by_part(rules: Iterable[Rule]) -> dict[str, tuple[Count, ...]]:
    """Return, for each part, the rules that count its turns or fibres."""
    found: dict[str, tuple[Count, ...]] = {}
    for rule in rules:
        if isinstance(rule, Count):
            found[rule.part] = (*found.get(rule.part, ()), rule)
    return found


def set_counts(
    candidate: Candidate, counts: Sequence[Count], target: RegionalTarget
) -> Iterator[Candidate]:
    """Yield a candidate as it is, then with each count that the target asks instead."""
    yield candidate
    attributes = candidate.attributes
    rules = {rule.count: rule for rule in counts if rule.speaks_of({candidate.part: attributes})}
    for name, rule in rules.items():
        asked = target.count_for(rule, attributes)
        here = attributes.get(name)
        if asked is None or not isinstance(here, int):
            continue
        low, high = rule.range_for(attributes, rule.water)
        wanted = min(max(asked[0], low), high)
        if wanted == here:
            continue
        told = _share_out(wanted, attributes, rules) if name == TURNS else {name: wanted}
        if told is not None:
            yield _with_counts(candidate, told, tuple(rules.values()), target.rulebook)


def _share_out(
    turns: int, attributes: Attributes, rules: Mapping[str, Count]
) -> dict[str, int] | None:
    """Return turns in all with those behind and before the wing, as they stood to each other.

    None when the rules for either side leave no way to share them out.
    """
    behind, front = attributes.get(BEHIND), attributes.get(FRONT)
    if not isinstance(behind, int) or not isinstance(front, int):
        return {TURNS: turns}
    ranges = {
        name: rules[name].range_for(attributes, rules[name].water) if name in rules else (0, turns)
        for name in (BEHIND, FRONT)
    }
    share = turns * behind / ((behind + front) or 1)
    ways = [
        one
        for one in range(ranges[BEHIND][0], ranges[BEHIND][1] + 1)
        if ranges[FRONT][0] <= turns - one <= ranges[FRONT][1]
    ]
    if not ways:
        return None
    best = min(ways, key=lambda one: (abs(one - share), -one))
    return {TURNS: turns, BEHIND: best, FRONT: turns - best}


def _with_counts(
    candidate: Candidate,
    counts: Mapping[str, int],
    rules: Sequence[Count],
    rulebook: Rulebook,
) -> Candidate:
    attributes: dict[str, Value] = {**candidate.attributes, **counts}
    told = tuple(f"{name} {value:03}" for name, value in counts.items())
    count = len(candidate.ingredients)
    uses, share = pieces_taken(attributes, rules, count), None
    if uses == 1 and count:
        kind = candidate.ingredients[0].material.kind
        part = rulebook.trade.part_kind(candidate.part)
        share = share_taken(part, kind, attributes, count, rulebook.conventions)
    return candidate.varied(attributes, (*candidate.key, *told), uses=uses, share=share)
