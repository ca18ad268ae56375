"""Variants that depart alike, the cheapest first."""

from __future__ import annotations

from dataclasses import replace

from variants.design import DesignProblem, Watch
from variants.design.search import SearchResult, search_within
from variants.geometry.cost import cost_of
from variants.geometry.fly import fly_geometry
from variants.geometry.layout import Layout
from variants.geometry.uses import uses_of
from variants.model import Variant

#: So many variants are looked at for the sake of ties.
_MOST = 2_000


def sort_by_price(
    design: DesignProblem,
    wanted: int,
    layout: Layout,
    different: bool = False,
    watch: Watch | None = None,
) -> SearchResult:
    """Return the closest variants; of those that depart alike, the cheapest to tie come first.

    Other parameters are those of `search_within`, and so is the result: it may be unfinished.

    Notes
    -----
    The search goes on until something departs more than the last one wanted, so that no cheaper
    one of the same departure is missed. What is not priced costs nothing, and one with fewer parts
    unpriced comes first.
    """
    asked = wanted
    while True:
        result = search_within(design, asked, different, watch)
        found = result.so_far
        if (
            not result.is_finished
            or not found
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

    proven = result.proven
    if not result.is_finished and result.bound is not None:
        # Of those that depart as far as the bound, a cheaper one may not have been found yet.
        proven = sum(one.departure < result.bound for one in found[:proven])
    ordered = sorted(found[:proven], key=key) + list(found[proven:])
    shown = tuple(replace(one, rank=rank) for rank, one in enumerate(ordered[:wanted], start=1))
    return replace(result, so_far=shown, proven=min(proven, wanted))
