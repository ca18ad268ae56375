"""The best variant of every set of changed parts, in order of departure, exact.

The space of solutions is split by which parts are changed (E. L. Lawler, "A procedure for computing
the k best solutions to discrete optimization problems", Management Science 18, 1972, 401-405):
after a best solution with changed set S is found in a subspace, the rest of that subspace is
divided into one subspace for each part, in which the parts before it agree with S and it does not.
Each subspace is solved for its best only; a heap hands them out in order. All subspaces share one
`BoundCache`, so that what depends on free parts alone is worked out once.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from itertools import islice

from variants.design import Watch
from variants.design.search.best_first import BestFirstSearch
from variants.design.search.bounds import BoundCache, ChangeFlags
from variants.design.search.elimination import EliminationTree
from variants.design.search.enumeration import Solution
from variants.design.search.network import Network


class ChangeSetSearch:
    """An iterator over the best solutions of all sets of changed parts, in order of weight.

    Parameters
    ----------
    network : Network
    watch : Watch, optional
    horizon : int, optional
        Thousandths; the search ends before the first solution that departs so far.

    Attributes
    ----------
    bound : int
        Thousandths; no solution still to come departs less.
    """

    def __init__(
        self, network: Network, *, watch: Watch | None = None, horizon: int | None = None
    ) -> None:
        self.network = network
        self._horizon = horizon
        self._end = network.never if horizon is None else horizon * network.unit
        self.bound = 0
        self._watch = watch or Watch()
        #: Subspaces with their best solution, or with a bound and the search for it.
        self._heap: list[tuple[int, int, ChangeFlags, BestFirstSearch | Solution]] = []
        self._serial = 0
        self._cache: BoundCache | None = None
        if not network.is_unsolvable:
            self._cache = BoundCache(EliminationTree(network))
            self._push(0, (None,) * len(network.parts))

    @property
    def least_left(self) -> int | None:
        """A departure in thousandths that no solution still to come is below; None beyond all."""
        return self._heap[0][0] // self.network.unit if self._heap else None

    def leftovers(self) -> Iterator[Solution]:
        """Yield what is known or soon found, in no order; for a search that was stopped."""
        heap, self._heap = sorted(self._heap, key=lambda entry: entry[:2]), []
        yield from (found for _, _, _, found in heap if not isinstance(found, BestFirstSearch))
        for _, _, _, found in heap:
            if isinstance(found, BestFirstSearch):
                yield from islice(found.leftovers(), 1)

    def __iter__(self) -> Iterator[Solution]:
        return self

    def __next__(self) -> Solution:
        """Return the next solution; raise what `BestFirstSearch` raises."""
        while self._heap:
            weight, serial, flags, found = self._heap[0]
            if weight >= self._end:
                break
            self.bound = weight // self.network.unit
            if isinstance(found, BestFirstSearch):
                best = next(found, None)
                if best is not None:
                    heapq.heapreplace(self._heap, (best[0], serial, flags, best))
                elif found.least_weight is not None:  # it has come to the horizon
                    heapq.heapreplace(self._heap, (found.least_weight, serial, flags, found))
                else:
                    heapq.heappop(self._heap)
                continue
            heapq.heappop(self._heap)
            self._split(weight, flags, found)
            return found
        raise StopIteration

    def _split(self, weight: int, flags: ChangeFlags, found: Solution) -> None:
        """Push the subspaces that are left of one once its best is handed out."""
        domains = self.network.domains
        agreed: list[bool | None] = list(flags)
        for part, flag in enumerate(flags):
            if flag is None:
                is_changed = domains[part][found[1][part]].is_changed
                self._push(weight, (*agreed[:part], not is_changed, *flags[part + 1 :]))
                agreed[part] = is_changed

    def _push(self, weight: int, flags: ChangeFlags) -> None:
        """Push a subspace none of whose solutions weighs less than this."""
        search = BestFirstSearch(
            self.network,
            flags=flags,
            cache=self._cache,
            watch=self._watch,
            horizon=self._horizon,
        )
        least = search.least_weight
        if least is not None:
            self._serial += 1
            heapq.heappush(self._heap, (max(weight, least), self._serial, flags, search))
