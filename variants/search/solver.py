"""The exact solver as python-constraint knows solvers: plugs into its `Problem`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from constraint import Solver

from variants.model import Candidate
from variants.problem import FlyConstraint
from variants.search.best_first import BestFirst
from variants.search.different import EachChange
from variants.search.members import Answer
from variants.search.network import Network, compile_network
from variants.search.watch import Watch

Assignment = dict[str, Candidate]
_Constraints = Sequence[tuple[FlyConstraint, Sequence[str]]]


class BestFirstSolver(Solver):  # type: ignore[misc]
    """Solutions in order of departure, with proof.

    Parameters
    ----------
    distinct : bool
        Only the best solution that makes each dressing, whichever items it comes from.
    different : bool
        Only the best solution of each set of changed parts.
    watch : Watch, optional
        Ends the search by `TimeUpError`.

    Attributes
    ----------
    walk : BestFirst or EachChange or None
        The search under way, which knows how far it has come.

    Notes
    -----
    Takes `FlyConstraint` objects only, since it needs their costs and projections. Of equal
    departures the one whose candidates' keys come first is first, part by part in the order of the
    variables, so that the order depends on nothing but the problem.
    """

    def __init__(
        self, *, distinct: bool = False, different: bool = False, watch: Watch | None = None
    ) -> None:
        self.walk: BestFirst | EachChange | None = None
        self._network: Network | None = None
        self._distinct, self._different, self._watch = distinct, different, watch

    def getSolutionIter(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: _Constraints,
        vconstraints: Mapping[str, Any],
    ) -> Iterator[Assignment]:
        """Yield every solution, cheapest first."""
        network = self._network = compile_network(domains, constraints)
        if self._different:
            self.walk = EachChange(network, watch=self._watch)
        else:
            self.walk = BestFirst(network, distinct=self._distinct, watch=self._watch)
        for _weight, chosen in self.walk:
            yield as_assignment(network, chosen)

    def leftovers(self) -> Iterator[Assignment]:
        """Yield what a search that was stopped can still finish soon, in no order."""
        if self.walk is not None and self._network is not None:
            for _weight, chosen in self.walk.leftovers():
                yield as_assignment(self._network, chosen)

    def getSolutions(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: _Constraints,
        vconstraints: Mapping[str, Any],
    ) -> list[Assignment]:
        """Return every solution, cheapest first."""
        return list(self.getSolutionIter(domains, constraints, vconstraints))

    def getSolution(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: _Constraints,
        vconstraints: Mapping[str, Any],
    ) -> Assignment | None:
        """Return the cheapest solution, or None."""
        return next(self.getSolutionIter(domains, constraints, vconstraints), None)


def as_assignment(network: Network, chosen: Sequence[int]) -> Assignment:
    """Return candidates by part from candidates' numbers."""
    return {part: network.domains[index][chosen[index]] for index, part in enumerate(network.parts)}


def best_first(network: Network, *, distinct: bool = False) -> Iterator[Answer]:
    """Yield (departure in thousandths, candidate number for each part), cheapest first."""
    for weight, chosen in BestFirst(network, distinct=distinct):
        yield weight // network.unit, chosen
