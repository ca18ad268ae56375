"""A constraint over numbered parts, and what it sees of each of their classes."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TypeVar

from variants.design import FlyConstraint
from variants.model import Candidate

#: What a constraint said of projections, one for each of its parts.
Verdicts = dict[tuple[Hashable, ...], int | None]
_Value = TypeVar("_Value")


class Witness:
    """A constraint over numbered parts, and what it sees of each of their classes.

    Parameters
    ----------
    constraint : FlyConstraint
    scope : tuple of int
        Its parts, in its own order.
    seen : sequence of sequence
        For each part of the scope and each class, the constraint's projection.
    stands : sequence of sequence of Candidate
        One candidate of each class.
    known : dict
        What the constraint has said of projections; more is entered.
    """

    __slots__ = ("constraint", "known", "scope", "seen", "stands")

    def __init__(
        self,
        constraint: FlyConstraint,
        scope: tuple[int, ...],
        seen: Sequence[Sequence[Hashable]],
        stands: Sequence[Sequence[Candidate]],
        known: Verdicts,
    ) -> None:
        self.constraint, self.scope, self.seen = constraint, scope, seen
        self.stands, self.known = stands, known

    def in_order(self, orders: Sequence[Sequence[int]]) -> Witness:
        """Return the witness of some classes of each part, in an order of their own."""
        seen, stands = self._ordered(self.seen, orders), self._ordered(self.stands, orders)
        return Witness(self.constraint, self.scope, seen, stands, self.known)

    def _ordered(
        self, columns: Sequence[Sequence[_Value]], orders: Sequence[Sequence[int]]
    ) -> list[list[_Value]]:
        return [
            [column[at] for at in orders[part]]
            for part, column in zip(self.scope, columns, strict=True)
        ]

    def tells_apart(self, live: Sequence[Sequence[int]]) -> list[int]:
        """Return the places of its scope at which it sees a difference between live classes."""
        return [
            place
            for place, (part, seen) in enumerate(zip(self.scope, self.seen, strict=True))
            if any(seen[one] != seen[live[part][0]] for one in live[part])
        ]

    def is_silent(self, place: int, one: int) -> bool:
        """Tell whether it says nothing beside a class of the part at a place of its scope."""
        return self.constraint.is_silent(self.constraint.parts[place], self.stands[place][one])

    def verdict(self, classes: Sequence[int]) -> int | None:
        """Return what the constraint says of a class for each of its parts, in thousandths."""
        seen = tuple([own[one] for own, one in zip(self.seen, classes, strict=True)])
        if seen not in self.known:
            chosen = [own[one] for own, one in zip(self.stands, classes, strict=True)]
            self.known[seen] = self.constraint.verdict(chosen)
        return self.known[seen]
