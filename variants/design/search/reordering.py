"""Any solver of python-constraint in place of ours: its solutions listed, then put in order.

The library's solvers know no costs. For a problem whose solutions can all be listed they find the
same variants, and are the check on ours.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from constraint import Solver

from variants.design import FlyConstraint, Watch
from variants.design.search.widening import Assignment
from variants.model import Candidate


class SortedSolutions:
    """All solutions that another solver has found, in order of departure.

    Parameters
    ----------
    found : sequence of (departure in thousandths, solution)
        In order.
    """

    def __init__(self, found: Sequence[tuple[int, Assignment]]) -> None:
        self._found, self._next = found, 0
        self.departure = 0

    @property
    def least_left(self) -> int | None:
        """What the next solution departs, in thousandths; None beyond all."""
        return self._found[self._next][0] if self._next < len(self._found) else None

    @property
    def bound(self) -> int:
        """Thousandths; no solution still to come departs less."""
        return self.departure if self.least_left is None else self.least_left

    def __iter__(self) -> Iterator[Assignment]:
        while self._next < len(self._found):
            self.departure, solution = self._found[self._next]
            self._next += 1
            yield solution

    def leftovers(self) -> Iterator[Assignment]:
        """Yield what has not been handed out."""
        yield from (solution for _, solution in self._found[self._next :])


class ReorderingSolver(Solver):  # type: ignore[misc]
    """Solutions of another solver in order of departure, as `BestFirstSolver` gives them.

    Parameters
    ----------
    inner : constraint.Solver
        One that has `getSolutionIter`, such as ``BacktrackingSolver``.
    distinct, different, watch
        As `BestFirstSolver` takes them; the watch is asked once for each solution.

    Attributes
    ----------
    progress : SortedSolutions or None
        None until all are listed.

    Notes
    -----
    Lists every solution before the first one is given; time and memory grow with their number.
    """

    def __init__(
        self,
        inner: Solver,
        *,
        distinct: bool = False,
        different: bool = False,
        watch: Watch | None = None,
    ) -> None:
        self.progress: SortedSolutions | None = None
        self._inner, self._watch = inner, watch or Watch()
        self._distinct, self._different = distinct, different

    def getSolutionIter(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
        vconstraints: Mapping[str, Any],
    ) -> Iterator[Assignment]:
        """Yield every solution, cheapest first."""
        parts = tuple(domains)
        found: list[tuple[int, Assignment]] = []
        for solution in self._inner.getSolutionIter(domains, constraints, vconstraints):
            self._watch.check()
            chosen = {part: solution[part] for part in parts}
            departure = sum(candidate.cost for candidate in chosen.values())
            departure += sum(
                one.cost([chosen[part] for part in one.parts]) for one, _ in constraints
            )
            found.append((departure, chosen))
        found.sort(key=lambda one: (one[0], [candidate.key for candidate in one[1].values()]))
        first: dict[object, tuple[int, Assignment]] = {}
        for place, one in enumerate(found):
            first.setdefault(self._kind(one[1], place), one)
        self.progress = SortedSolutions(list(first.values()))
        yield from self.progress

    def _kind(self, chosen: Assignment, place: int) -> object:
        """Return what may be listed only once."""
        if self._different:
            return tuple(part for part, candidate in chosen.items() if candidate.is_changed)
        if self._distinct:
            return tuple(candidate.identity for candidate in chosen.values())
        return place
