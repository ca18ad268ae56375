"""A minimal set of relaxations of a request, where no single one helps.

All relaxations are made at once; if that is enough, one after another is taken back, the most
troublesome first, as long as it still is: the deletion filter (J. W. Chinneck and E. W. Dravnieks,
"Locating minimal infeasible constraint sets in linear programs", ORSA Journal on Computing 3, 1991)
the other way round. What is left is minimal: none of it could be spared.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from variants.design import Request
from variants.explain.to_buy import Purchase

Found = TypeVar("Found")


@dataclass(frozen=True, slots=True)
class Relaxation:
    """One change of a request that asks less of the box or of the tyer's wishes.

    Attributes
    ----------
    effort : int
        How much it asks of the tyer; what asks more is taken back sooner.
    says : str
        What to do.
    relax : callable
        Takes a request and returns the eased one.
    purchases : tuple of Purchase
    """

    effort: int
    says: str
    relax: Callable[[Request], Request]
    purchases: tuple[Purchase, ...] = ()


def find_minimal_relaxation(
    relaxations: Sequence[Relaxation], attempt: Callable[[Sequence[Relaxation]], Found | None]
) -> tuple[tuple[Relaxation, ...], Found] | None:
    """Return relaxations of which none could be spared, and what they give together.

    Parameters
    ----------
    relaxations : sequence of Ease
        In the order in which they are told.
    attempt : callable
        What some of them give; None when they are not enough.

    Returns
    -------
    tuple or None
        None when even all of them are not enough.
    """
    kept = list(relaxations)
    best = attempt(kept)
    if best is None:
        return None
    for relaxation in sorted(relaxations, key=lambda one: -one.effort):
        rest = [one for one in kept if one is not relaxation]
        found = attempt(rest)
        if found is not None:
            kept, best = rest, found
    return tuple(kept), best
