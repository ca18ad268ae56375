"""Constraints that look at several parts but can tell the choices of one only, folded into it.

Candidates near to the dressing are few, and often all those of a part look alike to a constraint:
every hook at hand has the same gape, every head is of one kind. What such a constraint says depends
on one part alone, so it is added to the costs of that part's classes, or rules them out, once; and
ruling some out may leave further constraints with nothing else to tell apart.
"""

from __future__ import annotations

from collections.abc import Iterable

from variants.design.search.witness import Witness


def fold(
    witnesses: Iterable[Witness], live: list[list[int]], weights: list[list[int]], unit: int
) -> list[Witness]:
    """Fold in all that can be folded, and return the witnesses that are left.

    Parameters
    ----------
    witnesses : iterable of Witness
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
    if any(witness.is_silent(at, one) for at, one in enumerate(beside) if at != place):
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
