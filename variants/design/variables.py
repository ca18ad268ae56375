"""States domains and constraints as a python-constraint `Problem`, for any of its solvers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from constraint import Domain, Problem, Solver

from variants.design.constraints import FlyConstraint
from variants.model import Candidate


class LazyVariable(Domain):  # type: ignore[misc]
    """A variable's domain whose candidates are not yet made; the list that it is stays empty.

    `Problem` copies a domain into a list, and so would make all candidates of a large box, of which
    a search needs the nearest few. A solver that says ``takes_lazy_domains`` is given this instead.

    Parameters
    ----------
    candidates : sequence of Candidate
        Made when they are looked at.
    """

    def __init__(self, candidates: Sequence[Candidate]) -> None:
        super().__init__(())
        self.candidates = candidates

    def __bool__(self) -> bool:
        return bool(self.candidates)

    def __deepcopy__(self, memo: object) -> LazyVariable:
        return self


def pose_problem(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Iterable[FlyConstraint],
    solver: Solver | None = None,
) -> Problem:
    """Return the problem as python-constraint states it.

    Parameters
    ----------
    domains : mapping of part id to candidates
    constraints : iterable of FlyConstraint
    solver : constraint.Solver, optional
        By default the library's own.

    Raises
    ------
    ValueError
        When a domain is empty: such a problem has no solution, and the library refuses it.
    """
    problem = Problem(solver) if solver is not None else Problem()
    is_lazy = getattr(solver, "takes_lazy_domains", False)
    for part, domain in domains.items():
        problem.addVariable(part, LazyVariable(domain) if is_lazy else list(domain))
    for constraint in constraints:
        problem.addConstraint(constraint, list(constraint.parts))
    return problem
