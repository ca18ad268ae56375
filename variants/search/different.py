"""The best variant of every set of changed parts, in order of departure, exact.

The space of solutions is split by which parts are changed (E. L. Lawler, 1972): after a best
solution with changed set S is found in a subspace, the rest of that subspace is divided into one
subspace for each part, in which the parts before it agree with S and it does not. Each subspace is
solved for its best only; a heap hands them out in order.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator

from variants.search.network import Network
from variants.search.solver import best_first

#: For each part: must be changed, must not be, or either (None).
Flags = tuple[bool | None, ...]


def best_of_each_change(network: Network) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield (cost, candidates) with the best solution of each set of changed parts, best first."""
    heap: list[tuple[int, tuple[int, ...], Flags]] = []
    _push(heap, network, (None,) * len(network.parts))
    while heap:
        cost, chosen, flags = heapq.heappop(heap)
        yield cost, chosen
        is_changed = [
            network.domains[part][chosen[part]].is_changed for part in range(len(network.parts))
        ]
        agreed: list[bool | None] = list(flags)
        for part, flag in enumerate(flags):
            if flag is not None:
                continue
            _push(
                heap,
                network,
                (*agreed[:part], not is_changed[part], *flags[part + 1 :]),
            )
            agreed[part] = is_changed[part]


def _push(
    heap: list[tuple[int, tuple[int, ...], Flags]], network: Network, flags: Flags
) -> None:
    allowed = [
        [
            place
            for place, candidate in enumerate(domain)
            if flag is None or candidate.is_changed == flag
        ]
        for domain, flag in zip(network.domains, flags, strict=True)
    ]
    if not all(allowed):
        return
    best = next(best_first(network.restricted(allowed)), None)
    if best is not None:
        cost, chosen = best
        numbers = tuple(allowed[part][place] for part, place in enumerate(chosen))
        heapq.heappush(heap, (cost, numbers, flags))
