"""Stock as the search needs it: only the items that could run short on one fly.

Few pieces left are no limit as long as all parts together can't ask for more. What remains are the
*contested* items, and constraints that look at nothing else, so that all other items stay in large
classes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from variants.design import FlyConstraint, Pieces, StockConstraint, scarce_items
from variants.model import Candidate

ItemDemands = tuple[tuple[str, Pieces, Pieces], ...]


class ContestedConstraint(FlyConstraint):
    """Contested items can't give more pieces to some parts than are left.

    Parameters
    ----------
    parts : sequence of str
    demands : mapping of part to (mapping of candidate to (item, pieces, left))
        Of the contested items only.
    """

    def __init__(
        self, parts: Sequence[str], demands: Mapping[str, Mapping[Candidate, ItemDemands]]
    ) -> None:
        self.parts = tuple(parts)
        self._demands = demands

    def allows(self, chosen: Sequence[Candidate]) -> bool:  # noqa: D102
        return self.may_still_allow(dict(zip(self.parts, chosen, strict=True)))

    def projection(self, part: str, candidate: Candidate) -> object:  # noqa: D102
        return self._demands[part].get(candidate, ())

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:  # noqa: D102
        used: dict[str, Pieces] = {}
        for part, candidate in chosen.items():
            for item, pieces, left in self._demands[part].get(candidate, ()):
                used[item] = used.get(item, 0) + pieces
                if used[item] > left:
                    return False
        return True


class DemandCache:
    """What candidates ask of scarce items, read once for each of them."""

    def __init__(self) -> None:
        self._known: dict[Candidate, ItemDemands] = {}

    def demands(self, domain: Sequence[Candidate]) -> dict[Candidate, ItemDemands]:
        """Return the demands of those candidates that ask anything of scarce items."""
        known, found = self._known, {}
        for candidate in domain:
            demand = known.get(candidate)
            if demand is None:
                demand = known[candidate] = _demand(candidate)
            if demand:
                found[candidate] = demand
        return found


def split_stock(
    constraint: StockConstraint, domains: Mapping[str, Sequence[Candidate]], cache: DemandCache
) -> list[FlyConstraint]:
    """Return constraints that together forbid what the stock forbids, over few parts each.

    Parameters
    ----------
    constraint : StockConstraint
    domains : mapping of part to candidates
    cache : DemandCache

    Notes
    -----
    An item is contested when the largest demands of the parts it can serve exceed what is left.
    Each two parts that share a contested item get a constraint of their own, which the lower bound
    counts; what only three parts together can break gets one over all of them. A candidate that
    asks for more than is left by itself is refused by a constraint over its part alone.
    """
    asked = {part: cache.demands(domains[part]) for part in constraint.parts}
    together: list[FlyConstraint] = [
        ContestedConstraint((part,), asked)
        for part in constraint.parts
        if _asks_too_much(asked[part])
    ]
    most: dict[str, dict[str, Pieces]] = {}
    left_of: dict[str, Pieces] = {}
    for part, demands in asked.items():
        for demand in demands.values():
            for item, pieces, left in demand:
                left_of[item] = left
                by_part = most.setdefault(item, {})
                by_part[part] = max(by_part.get(part, 0), pieces)
    contested = {
        item
        for item, by_part in most.items()
        if len(by_part) > 1 and sum(by_part.values()) > left_of[item]
    }
    if not contested:
        return together
    kept = {part: _only(demands, contested) for part, demands in asked.items()}
    pairs = {
        pair
        for item in contested
        for pair in combinations([part for part in constraint.parts if part in most[item]], 2)
        if most[item][pair[0]] + most[item][pair[1]] > left_of[item]
    }
    together += [ContestedConstraint(pair, kept) for pair in sorted(pairs)]
    wide = {part for item in contested if len(most[item]) > 2 for part in most[item]}
    if wide:
        parts = [part for part in constraint.parts if part in wide]
        together.append(ContestedConstraint(parts, kept))
    return together


def _demand(candidate: Candidate) -> ItemDemands:
    """Return what a candidate asks of scarce items, added up where it asks twice of the same."""
    pieces: dict[str, Pieces] = {}
    left_of: dict[str, Pieces] = {}
    for item, takes, left in scarce_items(candidate):
        pieces[item] = pieces.get(item, 0) + takes
        left_of[item] = left
    return tuple((item, pieces[item], left_of[item]) for item in sorted(pieces))


def _asks_too_much(demands: Mapping[Candidate, ItemDemands]) -> bool:
    return any(pieces > left for demand in demands.values() for _item, pieces, left in demand)


def _only(
    demands: Mapping[Candidate, ItemDemands], items: set[str]
) -> dict[Candidate, ItemDemands]:
    kept: dict[Candidate, ItemDemands] = {}
    for candidate, demand in demands.items():
        few = tuple(one for one in demand if one[0] in items)
        if few:
            kept[candidate] = few
    return kept
