"""A constraint over numbered parts and classes: projections, cost rows, a cache of verdicts.

The search asks what a constraint says of classes of candidates many times over. Classes of which
the constraint sees the same are one *group*: its verdict is asked once for each choice of groups. A
*cost row* holds the verdicts for all groups of one part beside fixed groups of the others.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import product
from math import prod

from variants.design import FlyConstraint
from variants.model import Candidate

#: What a constraint said of projections, one for each of its parts: thousandths, None forbids.
Verdicts = dict[tuple[Hashable, ...], int | None]
#: The weight of each group of a part; None where the constraint has not been asked yet.
Costs = list[int | None]
#: A constraint with so few choices of groups is asked about all, and left out if it never speaks.
MOST_CHOICES_TRIED = 64
#: Verdicts kept at most by one constraint; beyond this all are forgotten, and asked for again.
MOST_VERDICTS = 100_000


class CostRow:
    """What a constraint says of a part's groups beside fixed groups of the other parts.

    Attributes
    ----------
    allowed : int
        The classes of the part that the constraint does not forbid, as bits; all of them for a
        soft constraint.
    costs : list of int or None
        The weight of each group; what is None must be asked of `IndexedConstraint.fill`.
    is_free : bool
        Whether no allowed class costs anything.
    """

    __slots__ = ("allowed", "costs", "is_free")

    def __init__(self, allowed: int, costs: Costs, is_free: bool) -> None:
        self.allowed, self.costs, self.is_free = allowed, costs, is_free


class IndexedConstraint:
    """One constraint over the parts and classes of a network, by their numbers.

    Parameters
    ----------
    constraint : FlyConstraint
    scope : tuple of int
        Its parts, in its own order.
    projections : sequence of sequence
        For each part of the scope and each class, the constraint's projection of it.
    stands : sequence of sequence of Candidate
        For each part of the scope and each class, one of its candidates.
    verdicts : dict
        What the constraint has said of projections so far; more is entered. Shared by all networks
        that hold the constraint.
    unit, never : int
        The network's.

    Attributes
    ----------
    groups : dict of part to list of int
        For each class of the part, its group.
    """

    def __init__(
        self,
        constraint: FlyConstraint,
        scope: tuple[int, ...],
        projections: Sequence[Sequence[Hashable]],
        stands: Sequence[Sequence[Candidate]],
        verdicts: Verdicts,
        unit: int,
        never: int,
    ) -> None:
        self.constraint, self.scope = constraint, scope
        self._projections, self._stands, self._verdicts = projections, stands, verdicts
        self._unit, self._never = unit, never
        self.groups: dict[int, list[int]] = {}
        #: For each part and group, the first class of it.
        self._first: dict[int, list[int]] = {}
        self._masks: dict[int, list[int]] = {}
        self._costs: dict[tuple[int, ...], int] = {}
        self._rows: dict[int, dict[tuple[int, ...], CostRow]] = {part: {} for part in scope}
        for part, column in zip(scope, projections, strict=True):
            numbers: dict[Hashable, int] = {}
            groups = [numbers.setdefault(one, len(numbers)) for one in column]
            first = {group: at for at, group in reversed(list(enumerate(groups)))}
            self.groups[part] = groups
            self._first[part] = [first[group] for group in range(len(numbers))]

    def is_idle(self) -> bool:
        """Tell whether it forbids and costs nothing, as far as that is cheap to find out."""
        groups = [range(len(self._first[part])) for part in self.scope]
        if prod(map(len, groups)) > MOST_CHOICES_TRIED:
            return False
        return not any(self.cost(choice) for choice in product(*groups))

    def row(self, part: int, others: tuple[int, ...]) -> CostRow:
        """Return the row of a part beside the groups of the other parts, in the scope's order."""
        rows = self._rows[part]
        row = rows.get(others)
        if row is None:
            row = rows[others] = self._make_row(part, others)
        return row

    def _make_row(self, part: int, others: tuple[int, ...]) -> CostRow:
        masks = self._masks.get(part)
        if masks is None:
            masks = self._masks[part] = _group_masks(self.groups[part], len(self._first[part]))
        unasked: Costs = [None] * len(masks)
        if not self.constraint.is_hard:
            return CostRow((1 << len(self.groups[part])) - 1, unasked, False)
        costs = [self.fill(part, others, group, unasked) for group in range(len(masks))]
        allowed, is_free = 0, True
        for mask, cost in zip(masks, costs, strict=True):
            if cost < self._never:
                allowed |= mask
                is_free = is_free and not cost
        return CostRow(allowed, unasked, is_free)

    def fill(self, part: int, others: tuple[int, ...], group: int, costs: Costs) -> int:
        """Return the weight of one group of a part beside others, and enter it into a row."""
        at = self.scope.index(part)
        cost = costs[group] = self.cost((*others[:at], group, *others[at:]))
        return cost

    def cost(self, groups: tuple[int, ...]) -> int:
        """Return the weight that it adds for a group of each part of its scope.

        The network's ``never`` where it forbids them.
        """
        known = self._costs.get(groups)
        if known is None:
            if len(self._costs) > MOST_VERDICTS:
                self._costs.clear()
                self._verdicts.clear()
            verdict = self._verdict(
                [self._first[part][at] for part, at in zip(self.scope, groups, strict=True)]
            )
            known = self._never if verdict is None else verdict * self._unit
            self._costs[groups] = known
        return known

    def _verdict(self, classes: Sequence[int]) -> int | None:
        """Return what the constraint says of a class of each of its parts, in thousandths."""
        seen = tuple([own[one] for own, one in zip(self._projections, classes, strict=True)])
        if seen not in self._verdicts:
            chosen = [own[one] for own, one in zip(self._stands, classes, strict=True)]
            self._verdicts[seen] = self.constraint.verdict(chosen)
        return self._verdicts[seen]

    def lower_bound(self, parts: Sequence[int], groups: Sequence[int]) -> int:
        """Return a weight that every completion of a partial choice bears at least."""
        chosen = {}
        for part, group in zip(parts, groups, strict=True):
            place = self.scope.index(part)
            chosen[self.constraint.parts[place]] = self._stands[place][self._first[part][group]]
        if not self.constraint.may_still_allow(chosen):
            return self._never
        return self.constraint.least_cost(chosen) * self._unit


def _group_masks(groups: Sequence[int], count: int) -> list[int]:
    """Return, for each group, its classes as bits."""
    width = (len(groups) + 7) // 8
    bits = [bytearray(width) for _ in range(count)]
    for at, group in enumerate(groups):
        bits[group][at >> 3] |= 1 << (at & 7)
    return [int.from_bytes(one, "little") for one in bits]
