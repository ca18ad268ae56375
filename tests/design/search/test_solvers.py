"""The search poses a python-constraint `Problem`; any of the library's solvers can answer it.

The library (python-constraint, an independent implementation of backtracking) is the reference: it
lists every solution of the problem as we state it.
"""

from __future__ import annotations

from typing import Any

import constraint
import pytest
from constraint import BacktrackingSolver, OptimizedBacktrackingSolver

from tests.breadth import seeds
from tests.design.search.problems import SmallProblem, random_problem
from tests.real import box, fly, rulebook
from variants.design import DesignProblem, Domain, Request, build_problem
from variants.design.search import search, variants_of
from variants.model import Variant

PLAIN = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "tail": "rooster-spade, ginger",
    "body": "fine synthetic dubbing, medium olive",
    "hackle": "rooster-neck-dry, ginger",
}
ROWS = [
    "hooks,dry fly hook,,14,,20 hooks",
    "thread,polyester tying thread,black,,,30 m",
    "grey thread,polyester tying thread,grey,,,30 m",
    "tail,rooster-spade,ginger,,12-20 mm,30 feathers",
    "brown tail,rooster-spade,brown,,12-20 mm,30 feathers",
    "dubbing,fine synthetic dubbing,medium olive,,,1 g",
    "muskrat,muskrat fur,,,,1 g",
    "cape,rooster-neck-dry,ginger,12-16,,40 feathers",
    "short cape,rooster-neck-dry,ginger,,5.7 mm,3 feathers",
]
SOLVERS = [BacktrackingSolver, OptimizedBacktrackingSolver]


def design(small: SmallProblem) -> DesignProblem:
    """Return a design problem of nothing but domains and constraints, all the search looks at."""
    nothing: Any = None
    return DesignProblem(nothing, nothing, small.domains, small.constraints, {}, (), ())


def told(variants: tuple[Variant, ...]) -> list[tuple[int, int, tuple[int, ...]]]:
    return [
        (one.rank, one.departure, tuple(id(filled) for filled in one.chosen.values()))
        for one in variants
    ]


@pytest.mark.parametrize("solver", SOLVERS)
@pytest.mark.parametrize("seed", seeds(range(0, 200, 4)))
def test_another_solver_in_place_of_ours_gives_the_same_variants(
    seed: int, solver: type[constraint.Solver]
) -> None:
    problem = design(random_problem(seed))
    for different in (False, True):
        ours = search(problem, 1000, different)
        theirs = search(problem, 1000, different, solver=solver())
        assert told(ours.variants) == told(theirs.variants)
        assert (ours.ended, ours.bound) == (theirs.ended, theirs.bound)


@pytest.mark.parametrize("solver", SOLVERS)
def test_a_fly_and_a_small_box_have_the_same_variants_by_each_solver(
    solver: type[constraint.Solver],
) -> None:
    problem = build_problem(Request(fly(PLAIN), box(ROWS)), rulebook())
    ours, theirs = search(problem, 500), search(problem, 500, solver=solver())
    assert len(ours.variants) > 5
    assert told(ours.variants) == told(theirs.variants)


def test_the_search_asks_the_librarys_problem(monkeypatch: pytest.MonkeyPatch) -> None:
    posed: list[constraint.Problem] = []
    ask = constraint.Problem.getSolutionIter

    def listen(self: constraint.Problem) -> Any:
        posed.append(self)
        return ask(self)

    monkeypatch.setattr(constraint.Problem, "getSolutionIter", listen)
    problem = build_problem(Request(fly(PLAIN), box(ROWS)), rulebook())
    assert search(problem, 3).variants
    assert next(variants_of(problem)).rank == 1
    assert len(posed) == 2


def test_no_candidates_are_made_to_pose_the_problem() -> None:
    problem = build_problem(Request(fly(PLAIN), box(ROWS)), rulebook())
    assert search(problem, 1).variants
    made = sum(one.made_so_far for one in problem.domains.values() if isinstance(one, Domain))
    assert made < sum(map(len, problem.domains.values()))
