"""A constraint over two parts or more, judging groups of classes instead of candidates.

Classes that a constraint sees alike are one *group* to it. A *row* is the constraint's judgement of
all groups of one part beside fixed groups of its other parts; rows and single judgements are made
when first asked for, and kept.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from copy import copy
from itertools import product
from math import prod

from variants.design.search.witness import Witness

#: The judgement of each group of a part; None where nobody has asked yet.
Costs = list[int | None]
#: A judge that sees so few choices is asked about all of them, and dismissed if it never minds.
FEW_JUDGEMENTS = 64
#: Judgements remembered at most by one judge; beyond this all are forgotten, and made again.
MOST_JUDGEMENTS = 100_000


class Row:
    """What a constraint says of a part's groups beside fixed groups of the other parts.

    Attributes
    ----------
    allowed : int
        The classes of the part that the constraint does not forbid, as bits; all of them for a
        soft constraint.
    costs : list of int or None
        By group; what is None must be asked of `Judge.fill`.
    is_free : bool
        Whether no allowed class costs anything.
    """

    __slots__ = ("allowed", "costs", "is_free")

    def __init__(self, allowed: int, costs: Costs, is_free: bool) -> None:
        self.allowed, self.costs, self.is_free = allowed, costs, is_free


class Judge:
    """One constraint over numbered parts and classes.

    Attributes
    ----------
    constraint : FlyConstraint
    scope : tuple of int
        Its parts, in its own order.
    groups : dict of part to list of int
        For each class, its group.

    Parameters
    ----------
    witness : Witness
        The constraint, and what it sees of the network's classes.
    unit, never : int
        The network's.
    """

    def __init__(self, witness: Witness, unit: int, never: int) -> None:
        self.constraint, self.scope = witness.constraint, witness.scope
        self._witness, self._unit, self._never = witness, unit, never
        self.groups: dict[int, list[int]] = {}
        #: For each part and group, the first class of it.
        self._first: dict[int, list[int]] = {}
        self._masks: dict[int, list[int]] = {}
        self._known: dict[tuple[int, ...], int] = {}
        self._rows: dict[int, dict[tuple[int, ...], Row]] = {part: {} for part in self.scope}
        for part, projections in zip(self.scope, witness.seen, strict=True):
            numbers: dict[Hashable, int] = {}
            groups = [numbers.setdefault(one, len(numbers)) for one in projections]
            first = {group: at for at, group in reversed(list(enumerate(groups)))}
            self.groups[part] = groups
            self._first[part] = [first[group] for group in range(len(numbers))]

    def renumbered(self, number: Mapping[int, int]) -> Judge:
        """Return the same judge where its parts have other numbers; what it knows is shared."""
        other = copy(self)
        other.scope = tuple([number[part] for part in self.scope])
        other.groups = {number[part]: one for part, one in self.groups.items()}
        other._first = {number[part]: one for part, one in self._first.items()}
        other._masks = {number[part]: one for part, one in self._masks.items()}
        other._rows = {number[part]: one for part, one in self._rows.items()}
        return other

    def is_idle(self) -> bool:
        """Tell whether it has nothing to say, as far as that is cheap to find out."""
        speaking = [
            [
                group
                for group, one in enumerate(self._first[part])
                if not self._witness.is_silent(place, one)
            ]
            for place, part in enumerate(self.scope)
        ]
        if prod(map(len, speaking)) > FEW_JUDGEMENTS:
            return False
        return not any(self.judge(groups) for groups in product(*speaking))

    def row(self, part: int, others: tuple[int, ...]) -> Row:
        """Return the row of a part beside the groups of the other parts, in the scope's order."""
        rows = self._rows[part]
        row = rows.get(others)
        if row is None:
            row = rows[others] = self._make_row(part, others)
        return row

    def _make_row(self, part: int, others: tuple[int, ...]) -> Row:
        masks = self._masks.get(part)
        if masks is None:
            masks = self._masks[part] = _group_masks(self.groups[part], len(self._first[part]))
        unasked: Costs = [None] * len(masks)
        if not self.constraint.is_hard:
            return Row((1 << len(self.groups[part])) - 1, unasked, False)
        costs = [self.fill(part, others, group, unasked) for group in range(len(masks))]
        allowed, is_free = 0, True
        for mask, cost in zip(masks, costs, strict=True):
            if cost < self._never:
                allowed |= mask
                is_free = is_free and not cost
        return Row(allowed, unasked, is_free)

    def fill(self, part: int, others: tuple[int, ...], group: int, costs: Costs) -> int:
        """Judge one group of a part beside others, and enter it into the row's costs."""
        at = self.scope.index(part)
        cost = costs[group] = self.judge((*others[:at], group, *others[at:]))
        return cost

    def judge(self, groups: tuple[int, ...]) -> int:
        """Return the weight that the constraint adds for a group of each part of its scope."""
        known = self._known.get(groups)
        if known is None:
            if len(self._known) > MOST_JUDGEMENTS:
                self._known.clear()
                self._witness.known.clear()
            verdict = self._witness.verdict(
                [self._first[part][at] for part, at in zip(self.scope, groups, strict=True)]
            )
            known = self._never if verdict is None else verdict * self._unit
            self._known[groups] = known
        return known

    def foresee(self, parts: Sequence[int], groups: Sequence[int]) -> int:
        """Return a weight that every completion of a partial choice bears at least."""
        chosen = {}
        for part, group in zip(parts, groups, strict=True):
            place = self.scope.index(part)
            one = self._witness.stands[place][self._first[part][group]]
            chosen[self.constraint.parts[place]] = one
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
