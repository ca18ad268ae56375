"""The exact solver: variants in order of departure, each proven before it is handed out.

`BestFirstSolver` is a python-constraint `Solver`. It walks prefixes of an assignment best-first (A*)
with the bound of `Elimination`.

Why the order is right. Let f(prefix) be the cost of the prefix plus the bound of the rest.
(1) The bound never exceeds the cost of any completion, since it is the exact least over all unary
and pair costs and leaves out only what tests over three parts and more add, which is never less
than 0. (2) Every solution has exactly one chain of prefixes, and at any time the heap holds a prefix
of every solution not yet handed out: popping a prefix puts back its best child and its next
sibling, and siblings are ranked by f. (3) A complete choice goes back with what those tests add, so
that its f is its cost; when it is popped again, no solution left can cost less. Among equal costs,
entries are ordered by their place in the stable order of the domains, so that runs agree.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from constraint import Solver

from variants.model import Candidate
from variants.problem import FlyConstraint
from variants.search.elimination import Elimination, Ranking
from variants.search.network import Network, compile_network

Assignment = dict[str, Candidate]
SETTLED = -1


class BestFirstSolver(Solver):  # type: ignore[misc]
    """Solutions in order of departure, with proof; plugs into python-constraint's `Problem`.

    Notes
    -----
    Takes `FlyConstraint` objects only, since it needs their costs and projections. After the
    rankings are built, each answer takes O(parts) heap steps unless tests over three parts and more
    refuse some. Memory grows with the contexts asked for and the answers handed out.
    """

    def getSolutionIter(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
        vconstraints: Mapping[str, Any],
    ) -> Iterator[Assignment]:
        """Yield every solution, cheapest first."""
        network = compile_network(domains, constraints)
        for _cost, chosen in best_first(network):
            yield as_assignment(network, chosen)

    def getSolutions(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
        vconstraints: Mapping[str, Any],
    ) -> list[Assignment]:
        """Return every solution, cheapest first."""
        return list(self.getSolutionIter(domains, constraints, vconstraints))

    def getSolution(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
        vconstraints: Mapping[str, Any],
    ) -> Assignment | None:
        """Return the cheapest solution, or None."""
        return next(self.getSolutionIter(domains, constraints, vconstraints), None)


def as_assignment(network: Network, chosen: Sequence[int]) -> Assignment:
    """Return candidates by part from candidates' numbers."""
    return {
        part: network.domains[index][chosen[index]] for index, part in enumerate(network.parts)
    }


def best_first(network: Network) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield (cost, candidate number for each part) in order of cost; see the module's proof."""
    if network.is_hopeless:
        return
    bounds = Elimination(network)
    order = bounds.order
    tests = _tests_by_depth(network, order)
    blank = [-1] * len(order)
    least = 0
    for root in bounds.roots:
        ranking = bounds.ranking(root, blank)
        if not ranking:
            return
        least += ranking[0][0]
    # An entry: (f, places taken so far, position of the last in its ranking, ranking, chosen so
    # far). Position SETTLED marks a complete choice whose f counts the tests' costs too.
    first = bounds.ranking(order[0], blank)
    heap: list[tuple[int, tuple[int, ...], int, Ranking, list[int]]] = [
        (least, (first[0][1],), 0, first, blank)
    ]
    while heap:
        cost, places, position, ranking, before = heapq.heappop(heap)
        if position == SETTLED:
            yield cost, tuple(before)
            continue
        depth = len(places) - 1
        part = order[depth]
        if position + 1 < len(ranking):
            worse, sibling = ranking[position + 1]
            onward = cost - ranking[position][0] + worse
            heapq.heappush(
                heap, (onward, (*places[:-1], sibling), position + 1, ranking, before)
            )
        chosen = before.copy()
        chosen[part] = places[-1]
        if not all(_passes(network, test, chosen) for test in tests[depth]):
            continue
        if depth + 1 == len(order):
            added = sum(_cost(network, constraint, chosen) for constraint, _ in network.tests)
            heapq.heappush(heap, (cost + added, places, SETTLED, ranking, chosen))
            continue
        below = bounds.ranking(order[depth + 1], chosen)
        heapq.heappush(heap, (cost, (*places, below[0][1]), 0, below, chosen))


def _cost(network: Network, constraint: FlyConstraint, chosen: Sequence[int]) -> int:
    number = {part: index for index, part in enumerate(network.parts)}
    return constraint.cost(
        [network.domains[number[part]][chosen[number[part]]] for part in constraint.parts]
    )


_Test = tuple[FlyConstraint, tuple[int, ...], bool]


def _tests_by_depth(network: Network, order: Sequence[int]) -> list[list[_Test]]:
    """Return, for each depth, the tests to run there: complete ones once, others as partial."""
    depth_of = {part: depth for depth, part in enumerate(order)}
    tests: list[list[_Test]] = [[] for _ in order]
    for constraint, scope in network.tests:
        depths = sorted(depth_of[part] for part in scope)
        tests[depths[-1]].append((constraint, scope, True))
        for depth in depths[:-1]:
            tests[depth].append((constraint, scope, False))
    return tests


def _passes(network: Network, test: _Test, chosen: Sequence[int]) -> bool:
    constraint, scope, is_complete = test
    candidates = {
        network.parts[part]: network.domains[part][chosen[part]]
        for part in scope
        if chosen[part] >= 0
    }
    if is_complete:
        return constraint.allows([candidates[part] for part in constraint.parts])
    return constraint.may_still_allow(candidates)
