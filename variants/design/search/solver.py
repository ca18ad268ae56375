"""The exact solver as python-constraint knows solvers: plugs into its `Problem`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

from constraint import Solver

from variants.design import FlyConstraint, Watch
from variants.design.search.different import EachChange
from variants.design.search.joined import walk
from variants.design.search.members import Answer
from variants.design.search.network import Network
from variants.design.search.pools import Pools
from variants.design.search.widening import (
    USUALLY_WANTED,
    Assignment,
    Walk,
    Widening,
    as_assignment,
)
from variants.model import Candidate

__all__ = ["Assignment", "BestFirstSolver", "as_assignment", "best_first"]

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
    wanted : int
        How many solutions will be asked for; only the speed depends on it.

    Attributes
    ----------
    answers : Widening or None
        The search under way, which knows how far it has come.

    Notes
    -----
    Takes `FlyConstraint` objects only, since it needs their costs and projections. Of equal
    departures the one whose candidates' keys come first is first, part by part in the order of the
    variables, so that the order depends on nothing but the problem.
    """

    def __init__(
        self,
        *,
        distinct: bool = False,
        different: bool = False,
        watch: Watch | None = None,
        wanted: int = USUALLY_WANTED,
    ) -> None:
        self.answers: Widening | None = None
        self._distinct, self._different, self._watch = distinct, different, watch
        self._wanted = wanted

    def getSolutionIter(  # noqa: N802
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: _Constraints,
        vconstraints: Mapping[str, Any],
    ) -> Iterator[Assignment]:
        """Yield every solution, cheapest first."""
        given = [constraint for constraint, _ in constraints]
        # A method of ours would hold us in a cycle, and all that was searched with us.
        begin = partial(_walk, self._different, self._distinct, self._watch)
        self.answers = Widening(Pools(domains, given, self._watch), begin, self._wanted)
        yield from self.answers

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


def _walk(
    is_different: bool, distinct: bool, watch: Watch | None, network: Network, horizon: int | None
) -> Walk:
    if is_different:
        return EachChange(network, watch=watch, horizon=horizon)
    return walk(network, distinct=distinct, watch=watch, horizon=horizon)


def best_first(network: Network, *, distinct: bool = False) -> Iterator[Answer]:
    """Yield (departure in thousandths, candidate number for each part), cheapest first."""
    for weight, chosen in walk(network, distinct=distinct):
        yield weight // network.unit, chosen
