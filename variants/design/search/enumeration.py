"""Enumerates the choices of candidates that a choice of classes stands for, lightest first.

After E. L. Lawler, "A procedure for computing the k best solutions to discrete optimization
problems", Management Science 18, 1972, 401-405.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence

from variants.design.search.network import Network

#: A weight and, for each part, a candidate's number.
Solution = tuple[int, tuple[int, ...]]


def enumerate_members(network: Network, chosen: Sequence[int], weight: int) -> Iterator[Solution]:
    """Yield all choices of members of the classes, lightest first.

    Parameters
    ----------
    network : Network
    chosen : sequence of int
        For each part its class.
    weight : int
        Of the choice of each class's cheapest member.

    Notes
    -----
    Every choice but the first is reached from exactly one other, by moving its last moved part (or
    one after it) on by one member, so that nothing is met twice; a move never makes it lighter.
    """
    lists = [network.classes[part][one] for part, one in enumerate(chosen)]
    heap: list[tuple[int, tuple[int, ...], int]] = [(weight, (0,) * len(lists), 0)]
    while heap:
        total, places, last = heapq.heappop(heap)
        yield total, tuple([one[at] for one, at in zip(lists, places, strict=True)])
        for part in range(last, len(lists)):
            at = places[part] + 1
            if at < len(lists[part]):
                here, there = lists[part][at - 1], lists[part][at]
                moved = total + network.weight(part, there) - network.weight(part, here)
                heapq.heappush(heap, (moved, (*places[:part], at, *places[part + 1 :]), part))
