"""Best-first search over classes: solutions in order of weight, each proven when it is handed out.

The search is A* (P. E. Hart, N. J. Nilsson and B. Raphael, "A formal basis for the heuristic
determination of minimum cost paths", 1968) over partial assignments, part by part along the order
of the elimination tree, always from the node with the least f (`variants.design.search.expansion`).

Why the order is right. (1) f never exceeds the weight of any solution that a node covers. (2) At
any time the heap holds, for every solution not yet handed out, a node that covers it: taking a node
off puts back nodes that cover the same. (3) So when a complete choice is taken off with its own
weight as f, no solution left weighs less.

Dressings. When only distinct dressings are wanted, a node is dropped if an earlier one made the
same of every part, looks the same to every constraint with parts still open, and may change as many
of these. Both have the same completions; the earlier one was taken off first, so weighs less, and
whatever dressing the later one leads to, the earlier one makes it at less weight.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator

from variants.design import Watch
from variants.design.search.bounds import BoundCache, ChangeFlags, ContextBounds
from variants.design.search.elimination import EliminationTree
from variants.design.search.enumeration import Solution
from variants.design.search.expansion import (
    Expansion,
    Node,
    OpenNode,
    PartialAssignment,
    SolutionClass,
)
from variants.design.search.network import Network


class BestFirstSearch(Iterator[Solution]):
    """An iterator over the solutions of a network, in order of weight.

    Parameters
    ----------
    network : Network
    distinct : bool
        Hand out each dressing once, at its least weight.
    flags : ChangeFlags, optional
        Which parts must be changed or must not.
    cache : BoundCache, optional
        To be shared by several searches over the network.
    watch : Watch, optional
    horizon : int, optional
        Thousandths; the search ends before the first solution that departs so far.

    Attributes
    ----------
    bound : int
        Thousandths; no solution still to come departs less.
    steps : int
        Nodes taken off the heap so far.
    """

    def __init__(
        self,
        network: Network,
        *,
        distinct: bool = False,
        flags: ChangeFlags | None = None,
        cache: BoundCache | None = None,
        watch: Watch | None = None,
        horizon: int | None = None,
    ) -> None:
        self.network, self.distinct = network, distinct
        self.bound, self.steps = 0, 0
        self._watch = watch or Watch()
        self._end = network.never if horizon is None else horizon * network.unit
        self._last_step: int | None = None
        self._heap: list[tuple[int, int, Node]] = []
        self._serial = 0
        #: States met, and dressings handed out, when only distinct ones are wanted.
        self._closed: set[tuple[object, ...]] = set()
        self._given: set[tuple[int, ...]] = set()
        if network.is_unsolvable:
            return
        bounds = ContextBounds(cache or BoundCache(EliminationTree(network)), flags, self._watch)
        self._expansion = Expansion(bounds, distinct)
        root = self._expansion.root()
        if root is not None:
            self._push(*root)

    @property
    def least_weight(self) -> int | None:
        """A weight that no solution still to come is below; None when there is none to come."""
        return self._heap[0][0] if self._heap else None

    @property
    def least_left(self) -> int | None:
        """That weight as a departure in thousandths."""
        return None if self.least_weight is None else self.least_weight // self.network.unit

    def look_beyond(self, steps: int) -> Iterator[Solution]:
        """Yield what comes after the horizon, for so many steps at most.

        These are solutions, but others that are missing here may come before them.
        """
        self._end, self._last_step = self.network.never, self.steps + steps
        yield from self

    def leftovers(self) -> Iterator[Solution]:
        """Yield solutions soon, but in no order; for a search that was stopped.

        The nodes nearest to being complete are completed first, depth first.
        """
        heap, self._heap = self._heap, []
        heap.sort(key=lambda entry: (-self._expansion.depth_of(entry[2]), entry[0]))
        for _, _, node in heap:
            for solution, made in self._expansion.complete(node):
                if not self.distinct or made not in self._given:
                    self._given.add(made)
                    yield solution

    def __next__(self) -> Solution:
        """Return the next solution.

        Raises
        ------
        StopIteration
            When there is none before the horizon.
        TimeUpError
            When the watch says so; `bound` stays true.
        """
        while self._heap:
            self._watch.look()
            # The node stays on the heap until its successors are known, so that nothing is lost
            # when the time limit or the user breaks in.
            f, _, node = self._heap[0]
            if f >= self._end or self.steps == self._last_step:
                break
            self.steps += 1
            self.bound = f // self.network.unit
            self._watch.hear(self.bound, self.steps)
            if isinstance(node, OpenNode):
                self._expand(f, node)
            elif isinstance(node, PartialAssignment):
                self._replace_first(f, self._expansion.extend(node))
            elif not self.distinct or node.made not in self._given:
                return self._hand_out(node)
            else:
                heapq.heappop(self._heap)
        raise StopIteration

    def _push(self, f: int, node: Node) -> None:
        self._serial += 1
        heapq.heappush(self._heap, (f, self._serial, node))

    def _replace_first(self, least: int, following: tuple[int, Node] | None) -> None:
        """Put what follows from the node on top in its place; f never falls."""
        if following is None:
            heapq.heappop(self._heap)
        else:
            self._serial += 1
            f, node = following
            heapq.heapreplace(self._heap, (max(least, f), self._serial, node))

    def _expand(self, f: int, node: OpenNode) -> None:
        """Try classes, cheapest first, until another node on the heap comes before the next."""
        expansion = self._expansion
        if node.added is None:
            if self.distinct and self._is_closed(expansion.state(node)):
                heapq.heappop(self._heap)
                return
            expansion.open(node)
        following = min(self._heap[1:3], default=None)
        while (bound := expansion.lower_bound(node)) is not None:
            if following is not None and bound > following[0]:
                self._replace_first(f, (bound, node))
                return
            partial = expansion.try_next(node)
            if partial is not None:
                self._push(max(f, partial.f), partial)
                following = min(self._heap[1:3], default=None)
        heapq.heappop(self._heap)

    def _hand_out(self, node: SolutionClass) -> Solution:
        solution = node.next
        if self.distinct:
            self._given.add(node.made)
        following = next(node.rest, None)
        if following is None:
            heapq.heappop(self._heap)
        else:
            self._replace_first(
                following[0], (following[0], SolutionClass(node.made, following, node.rest))
            )
        return solution

    def _is_closed(self, state: tuple[object, ...]) -> bool:
        """Tell whether a state was met before, and remember it."""
        if state in self._closed:
            return True
        self._closed.add(state)
        return False


def solve_network(
    network: Network, *, distinct: bool = False
) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield (departure in thousandths, candidates' numbers) of each solution, cheapest first."""
    for weight, chosen in BestFirstSearch(network, distinct=distinct):
        yield weight // network.unit, chosen
