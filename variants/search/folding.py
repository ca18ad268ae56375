"""Constraints that look at several parts but can tell the choices of one only, folded into it.

Candidates near to the dressing are few, and often all those of a part look alike to a constraint:
every hook at hand has the same gape, every head is of one kind. What such a constraint says depends
on one part alone, so it is added to the costs of that part's classes, or rules them out, once; and
ruling some out may leave further constraints with nothing else to tell apart.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence

from variants.model import Candidate
from variants.problem import FlyConstraint
from variants.search.judge import Verdicts


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

    def tells_apart(self, live: Sequence[Sequence[int]]) -> list[int]:
        """Return the places of its scope at which it sees a difference between live classes."""
        return [
            place
            for place, (part, seen) in enumerate(zip(self.scope, self.seen, strict=True))
            if any(seen[one] != seen[live[part][0]] for one in live[part])
        ]

    def is_silent(self, place: int, classes: Sequence[int]) -> bool:
        """Tell whether it has nothing to say of a part beside classes of the others."""
        for other, (part, own, one) in enumerate(
            zip(self.constraint.parts, self.stands, classes, strict=True)
        ):
            if other != place and self.constraint.is_silent(part, own[one]):
                return True
        return False

    def verdict(self, classes: Sequence[int]) -> int | None:
        """Return what the constraint says of a class for each of its parts, in thousandths."""
        seen = tuple([own[one] for own, one in zip(self.seen, classes, strict=True)])
        if seen not in self.known:
            chosen = [own[one] for own, one in zip(self.stands, classes, strict=True)]
            self.known[seen] = self.constraint.verdict(chosen)
        return self.known[seen]


def fold(
    witnesses: Iterable[Witness], live: list[list[int]], weights: list[list[int]], unit: int
) -> list[Witness]:
    """Fold in all that can be folded, and return the witnesses that are left.

    Parameters
    ----------
    witnesses : sequence of Witness
    live : list of list of int
        For each part the classes that may be chosen; those ruled out are taken off.
    weights : list of list of int
        For each part and class its weight; what witnesses say is added.
    unit : int
        How much a thousandth weighs.
    """
    left, has_dropped = list(witnesses), True
    while has_dropped and all(live):
        has_dropped, still = False, []
        for one in left:
            places = one.tells_apart(live)
            if len(places) > 1:
                still.append(one)
                continue
            has_dropped |= _fold_one(one, places[0] if places else 0, live, weights, unit)
            if not all(live):
                break
        left = still
    return left


def _fold_one(
    witness: Witness, place: int, live: list[list[int]], weights: list[list[int]], unit: int
) -> bool:
    """Add what a witness says to one of its parts; tell whether a class was ruled out."""
    part, kept = witness.scope[place], []
    beside = [live[other][0] for other in witness.scope]
    if witness.is_silent(place, beside):
        return False
    for one in live[part]:
        beside[place] = one
        verdict = witness.verdict(beside)
        if verdict is not None:
            weights[part][one] += verdict * unit
            kept.append(one)
    has_dropped = len(kept) < len(live[part])
    live[part] = kept
    return has_dropped
