"""Variants that depart alike, the cheapest first."""

from __future__ import annotations

from dataclasses import replace

from variants.amounts.cost import cost_of
from variants.amounts.uses import uses_of
from variants.geometry import Layout, fly_geometry
from variants.model import Variant
from variants.problem import DesignProblem
from variants.search import Ended, SearchResult, search

#: So many variants are looked at for the sake of ties.
_MOST = 2_000


def cheapest_first(
    design: DesignProblem,
    wanted: int,
    layout: Layout,
    different: bool = False,
    within_s: float | None = None,
) -> SearchResult:
    """Return the closest variants; of those that depart alike, the cheapest to tie come first.

    Notes
    -----
    The search goes on until something departs more than the last one wanted, so that no cheaper
    one of the same departure is missed. What is not priced costs nothing, and one with fewer parts
    unpriced comes first.
    """
    asked = wanted
    while True:
        result = search(design, asked, different, within_s)
        found = result.variants
        if (
            result.ended is not Ended.PROVEN
            or len(found) < asked
            or found[-1].departure > found[wanted - 1].departure
            or asked >= _MOST
        ):
            break
        asked *= 2

    def key(variant: Variant) -> tuple[int, int, float, int]:
        geometry = fly_geometry(design, layout, variant)
        cost = cost_of(uses_of(geometry, variant.chosen, layout))
        return variant.departure, len(cost.unpriced), cost.total, variant.rank

    ordered = sorted(found[: result.proven], key=key) + list(found[result.proven :])
    shown = tuple(replace(one, rank=rank) for rank, one in enumerate(ordered[:wanted], start=1))
    return replace(result, variants=shown, proven=min(result.proven, wanted))
