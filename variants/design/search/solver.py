"""The exact solver as python-constraint knows solvers: it plugs into the library's `Problem`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

from constraint import Solver

from variants.design import FlyConstraint, LazyVariable, Watch
from variants.design.search.best_first import BestFirstSearch
from variants.design.search.change_sets import ChangeSetSearch
from variants.design.search.compiler import NetworkCompiler
from variants.design.search.network import Network
from variants.design.search.widening import USUALLY_WANTED, Assignment, Search, WideningSearch
from variants.model import Candidate

Domains = Mapping[str, Sequence[Candidate] | LazyVariable]
Constraints = Sequence[tuple[FlyConstraint, Sequence[str]]]


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
    wanted : int
        How many solutions will be asked for; only the speed depends on it.

    Attributes
    ----------
    progress : WideningSearch or None
        The search under way, which knows how far it has come.

    Notes
    -----
    Takes `FlyConstraint` objects only, since it needs their costs and projections. Of equal
    departures the one whose candidates' keys come first is first, part by part in the order of the
    variables, so that the order depends on nothing but the problem.
    """

    #: `variants.design.pose_problem` gives it domains whose candidates are not yet made.
    takes_lazy_domains = True

    def __init__(
        self,
        *,
        distinct: bool = False,
        different: bool = False,
        watch: Watch | None = None,
        wanted: int = USUALLY_WANTED,
    ) -> None:
        self.progress: WideningSearch | None = None
        self._distinct, self._different, self._watch = distinct, different, watch
        self._wanted = wanted

    def getSolutionIter(  # noqa: N802
        self, domains: Domains, constraints: Constraints, vconstraints: Mapping[str, Any]
    ) -> Iterator[Assignment]:
        """Yield every solution, cheapest first."""
        compiler = NetworkCompiler.of(
            {
                part: own.candidates if isinstance(own, LazyVariable) else own
                for part, own in domains.items()
            },
            [constraint for constraint, _ in constraints],
            self._watch,
        )
        # A method of ours would hold us in a cycle, and all that was searched with us.
        start = partial(_start_search, self._different, self._distinct, self._watch)
        self.progress = WideningSearch(compiler, start, self._wanted)
        yield from self.progress

    def getSolutions(  # noqa: N802
        self, domains: Domains, constraints: Constraints, vconstraints: Mapping[str, Any]
    ) -> list[Assignment]:
        """Return every solution, cheapest first."""
        return list(self.getSolutionIter(domains, constraints, vconstraints))

    def getSolution(  # noqa: N802
        self, domains: Domains, constraints: Constraints, vconstraints: Mapping[str, Any]
    ) -> Assignment | None:
        """Return the cheapest solution, or None."""
        return next(self.getSolutionIter(domains, constraints, vconstraints), None)


def _start_search(
    is_different: bool, distinct: bool, watch: Watch | None, network: Network, horizon: int | None
) -> Search:
    if is_different:
        return ChangeSetSearch(network, watch=watch, horizon=horizon)
    return BestFirstSearch(network, distinct=distinct, watch=watch, horizon=horizon)
