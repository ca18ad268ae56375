"""The lattice of changes between a base and one variant, and the best path through it.

A state is a whole number whose bits tell which changes are made: 0 is the base, all bits set is the
variant. What hard rules forbid is given as *no-goods*, so that a state is judged by a few bit
operations and none is built before the path is known.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from variants.rulebook import Rule

_STEP, _NEW_STATE = 1000, 1


@dataclass(frozen=True, slots=True)
class NoGood:
    """Of the changes in ``scope``, exactly those in ``made`` are made: that breaks the rule."""

    rule: Rule
    scope: int
    made: int


@dataclass(frozen=True)
class Lattice:
    """The states between a base and a variant.

    Attributes
    ----------
    changes : int
        How many changes lead to the variant.
    no_goods : sequence of NoGood
    known : frozenset of int
        States that a path should rather lead through.
    """

    changes: int
    no_goods: Sequence[NoGood]
    known: frozenset[int] = frozenset()

    @property
    def goal(self) -> int:
        """The state in which every change is made."""
        return (1 << self.changes) - 1

    def broken_rules(self, state: int) -> list[Rule]:
        """Return the hard rules that a state breaks."""
        return [one.rule for one in self.no_goods if state & one.scope == one.made]

    def shortest_path(self) -> list[int]:
        """Return the states from the base to the variant, both included.

        Changes are made one at a time where the rules allow it; else as few at once as will do.
        Among the ways that remain, one with few new states is taken.
        """
        for together in range(1, self.changes + 1):
            states = self._search_path(together)
            if states:
                return states
        return [0, self.goal]

    def _search_path(self, together: int) -> list[int]:
        """Return the best path with steps of up to so many changes, or nothing.

        Notes
        -----
        A* (P. E. Hart, N. J. Nilsson and B. Raphael, 1968). A step of n changes costs n * n, so
        that linked steps are rare, and a hair more when it leads to a new state. The bound counts
        the changes still to be made, less the most known states that can lie ahead; it never
        exceeds the rest of the path and never falls by more than a step costs.
        """
        costs = {0: 0}
        before: dict[int, int] = {}
        done: set[int] = set()
        # Ties go to the state with more changes made, then to changes early in the dressing.
        heap = [(self._bound(0), 0, 0)]
        while heap:
            _least, _made, state = heapq.heappop(heap)
            if state == self.goal:
                return _trace_back(before, state)
            if state in done:
                continue
            done.add(state)
            for after in self._neighbours(state, together):
                count = (after & ~state).bit_count()
                cost = costs[state] + _STEP * count * count
                cost += 0 if after in self.known else _NEW_STATE
                if cost < costs.get(after, cost + 1):
                    costs[after], before[after] = cost, state
                    heapq.heappush(heap, (cost + self._bound(after), -after.bit_count(), after))
        return []

    def _neighbours(self, state: int, together: int) -> Iterator[int]:
        free = [bit for bit in range(self.changes) if not state >> bit & 1]
        for count in range(1, together + 1):
            for bits in combinations(free, count):
                after = state | sum(1 << bit for bit in bits)
                if after == self.goal or self._is_whole(after):
                    yield after

    def _is_whole(self, state: int) -> bool:
        return all(state & one.scope != one.made for one in self.no_goods)

    def _bound(self, state: int) -> int:
        left = self.changes - state.bit_count()
        ahead = _bound_above(state, self._chains)
        return _STEP * left + _NEW_STATE * (left - ahead)

    @cached_property
    def _chains(self) -> dict[int, int]:
        """For each known state, how many known states a path from it can pass at most, its own in.

        Whether the steps between them are valid is left aside: this is a bound.
        """
        chains: dict[int, int] = {}
        for state in sorted(self.known, key=int.bit_count, reverse=True):
            chains[state] = 1 + _bound_above(state, chains)
        return chains


def _bound_above(state: int, chains: dict[int, int]) -> int:
    longer = (length for other, length in chains.items() if other & state == state != other)
    return max(longer, default=0)


def _trace_back(before: dict[int, int], state: int) -> list[int]:
    states = [state]
    while state in before:
        state = before[state]
        states.append(state)
    return states[::-1]
