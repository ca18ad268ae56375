"""The parts of a problem made ready to be filled one after another, as stages of label setting.

Candidates of one part come in classes by all that constraints over two parts and more see of them;
of each class only those are kept that no other of it is better than in both costs.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import log

from variants.design import FlyConstraint, StockConstraint
from variants.design.search.contested_stock import DemandCache, split_stock
from variants.model import Candidate

#: For each part still looked at, its class.
Context = tuple[int, ...]
#: First cost, second cost, candidate.
Option = tuple[int, int, Candidate]


class PartOptions:
    """The candidates of one part, in classes by what constraints over two parts and more see."""

    def __init__(
        self,
        part: str,
        options: Sequence[Option],
        joint: Sequence[FlyConstraint],
    ) -> None:
        self.part = part
        self.seen_by = [at for at, one in enumerate(joint) if part in one.parts]
        rows: dict[tuple[Hashable, ...], list[int]] = {}
        self.options = sorted(options, key=lambda one: (one[0], one[1], one[2].key))
        for place, (_, _, candidate) in enumerate(self.options):
            row = tuple(joint[at].projection(part, candidate) for at in self.seen_by)
            rows.setdefault(row, []).append(place)
        self.rows = list(rows)
        #: Of each class only what nothing in it dominates, cheapest in the first cost first.
        self.classes = [self._not_dominated(places) for places in rows.values()]

    def _not_dominated(self, places: Sequence[int]) -> list[int]:
        kept: list[int] = []
        for place in places:
            if not kept or self.options[place][1] < self.options[kept[-1]][1]:
                kept.append(place)
        return kept

    def stand_for(self, one: int) -> Candidate:
        """Return a candidate that speaks for a class."""
        return self.options[self.classes[one][0]][2]

    def merge(self, still_open: set[int]) -> list[int]:
        """Return for each class the first one that some constraints can't tell it from."""
        first: dict[tuple[Hashable, ...], int] = {}
        return [
            first.setdefault(
                tuple(row[place] for place, at in enumerate(self.seen_by) if at in still_open),
                number,
            )
            for number, row in enumerate(self.rows)
        ]


class CachedConstraint:
    """What one constraint says of classes, each combination of projections asked once."""

    def __init__(
        self, constraint: FlyConstraint, parts: Mapping[str, PartOptions], at: int
    ) -> None:
        self._constraint = constraint
        self._parts = [parts[part] for part in constraint.parts]
        self._ids: list[list[int]] = []
        for part in self._parts:
            place, numbers = part.seen_by.index(at), dict[Hashable, int]()
            self._ids.append([numbers.setdefault(row[place], len(numbers)) for row in part.rows])
        self._known: dict[tuple[int, ...], int | None] = {}

    def verdict(self, classes: Sequence[int]) -> int | None:
        """Return the cost of one class of each part, or None when they may not stand together."""
        key = tuple([ids[one] for ids, one in zip(self._ids, classes, strict=True)])
        if key not in self._known:
            chosen = [part.stand_for(one) for part, one in zip(self._parts, classes, strict=True)]
            self._known[key] = self._constraint.verdict(chosen)
        return self._known[key]


@dataclass(frozen=True, slots=True)
class Stage:
    """A part being filled: which constraints are asked then, and what is looked at afterwards."""

    part: PartOptions
    ripe: Sequence[tuple[CachedConstraint, Sequence[int]]]
    live: Sequence[tuple[int, Sequence[int]]]

    def verdict(self, classes: Sequence[int]) -> int | None:
        """Return what the constraints that are ripe now add, or None when one forbids."""
        total = 0
        for constraint, places in self.ripe:
            verdict = constraint.verdict([classes[place] for place in places])
            if verdict is None:
                return None
            total += verdict
        return total

    def context(self, classes: Sequence[int]) -> Context:
        """Return what constraints still open see."""
        return tuple([merged[classes[place]] for place, merged in self.live])


def split_all_stock(
    constraints: Iterable[FlyConstraint], domains: Mapping[str, Sequence[Candidate]]
) -> list[FlyConstraint]:
    """Return the constraints, those of stock put in terms of the few items that may run short."""
    cache, found = DemandCache(), list[FlyConstraint]()
    for one in constraints:
        found += split_stock(one, domains, cache) if isinstance(one, StockConstraint) else [one]
    return found


def order_parts(parts: Mapping[str, PartOptions], joint: Sequence[FlyConstraint]) -> Iterator[str]:
    """Yield the parts so that contexts stay small: next the one that leaves least open."""
    left, filled = list(parts), set[str]()
    while left:

        def left_open(part: str) -> tuple[float, int]:
            now = filled | {part}
            seen = {
                one
                for constraint in joint
                if not now.issuperset(constraint.parts)
                for one in constraint.parts
                if one in now
            }
            return sum(log(len(parts[one].classes)) for one in seen), len(parts[part].classes)

        part = min(left, key=left_open)
        yield part
        left.remove(part)
        filled.add(part)
