"""The exact Pareto front of a problem under two costs: nothing is better in both.

Candidates, constraints and a second cost for each candidate come in; the front goes out, with proof
that no other choice is as good in one cost and better in the other. The first cost is what the
search always minimises: candidates' own costs and what constraints add.

The two phases of E. L. Ulungu and J. Teghem, "The two phases method: an efficient procedure to
solve bi-objective combinatorial optimization problems", Foundations of Computing and Decision
Sciences 20, 1995, 149-165: first the exact search finds the best solutions under some weighted sums
of the two costs (supported points). Candidates that can't lead out of the region that these points
dominate, whatever they are combined with, are pruned. Then all that is left goes through label
setting (`variants.design.search.labels`), which finds the points that no weighted sum finds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from variants.design import CandidateBatch, Domain, FlyConstraint, Watch, gc_paused, pose_problem
from variants.design.search.interchangeable import UnaryFilter
from variants.design.search.labels import LabelSetting
from variants.design.search.pareto import DominatedRegion, LeastCosts, ParetoPoint, find_front
from variants.design.search.solver import BestFirstSolver
from variants.design.search.stages import Option, split_all_stock
from variants.design.search.widening import Assignment
from variants.model import Candidate

#: The weighings tried, those first that tell most about what is left.
_ORDER = ((1, 1), (16, 1), (1, 16), (4, 1), (1, 4), (2, 1), (1, 2), (8, 1), (1, 8))
#: How often what is out of reach is left out, before it is no longer worth looking.
_ROUNDS = 4
Options = Mapping[str, Sequence[Option]]


@gc_paused()
def pareto_front(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Iterable[FlyConstraint],
    second: Callable[[Candidate], int],
    within: int,
    watch: Watch | None = None,
) -> list[ParetoPoint]:
    """Return the front, by rising first cost and falling second.

    Parameters
    ----------
    domains : mapping of part to candidates
    constraints : iterable of FlyConstraint
    second : callable
        What a candidate costs in the second way, in thousandths; never less than 0.
    within : int
        The first cost may not be above this.
    watch : Watch, optional

    Raises
    ------
    TimeUpError
        When the watch says so.

    Notes
    -----
    Of choices that cost the same in both ways one is told.
    """
    watch = watch or Watch()
    given = split_all_stock(constraints, domains)
    unary = [one for one in given if len(one.parts) == 1]
    joint = [one for one in given if len(one.parts) > 1]
    options: Options = {
        part: _options(part, domain, [one for one in unary if part in one.parts], second)
        for part, domain in domains.items()
    }
    options = _prune(options, DominatedRegion([], within))
    if not options or not all(options.values()):
        return []
    known: list[ParetoPoint] = []
    for slope in _ORDER:
        found = _find_supported(options, joint, slope, watch)
        if found is None:
            return known
        known = find_front([*known, found] if found.first <= within else known)
        region = DominatedRegion(known, within)
        options = _prune(options, region)
        if not all(options.values()):
            return known
    return find_front([*known, *LabelSetting(options, joint, watch).run(region)])


def _options(
    part: str,
    domain: Sequence[Candidate],
    unary: Sequence[FlyConstraint],
    second: Callable[[Candidate], int],
) -> list[Option]:
    """Return the candidates that constraints over the part alone allow, with their two costs."""
    unary_filter = UnaryFilter(part, unary)
    return [
        (candidate.cost + extra, second(candidate), candidate)
        for candidate in domain
        if (extra := unary_filter.added_cost(candidate)) is not None
    ]


def _prune(options: Options, region: DominatedRegion) -> Options:
    """Return the options that may be part of an answer out of the region.

    Beside an option every other part costs its least at least, both ways and by each slope.
    """
    for _ in range(_ROUNDS):
        if not all(options.values()):
            break
        least = {part: LeastCosts.of(found) for part, found in options.items()}
        whole = LeastCosts.sum(least.values())
        near = {
            part: [
                one for one in found if not region.dominates(whole.with_option(least[part], one))
            ]
            for part, found in options.items()
        }
        if all(len(near[part]) == len(found) for part, found in options.items()):
            break
        options = near
    return options


def _find_supported(
    options: Options, joint: Sequence[FlyConstraint], slope: tuple[int, int], watch: Watch
) -> ParetoPoint | None:
    """Return the best answer under a weighing of the two costs, or None when there is none."""
    a, b = slope
    domains = {
        part: Domain(
            [CandidateBatch(a * one[0] + b * one[1], partial(tuple, [one[2]])) for one in found]
        )
        for part, found in options.items()
    }
    weighed = [_WeightedConstraint(one, a) for one in joint]
    solver = BestFirstSolver(watch=watch, wanted=1)
    chosen: Assignment | None = pose_problem(domains, weighed, solver).getSolution()
    if chosen is None:
        return None
    own = [
        next(one for one in options[part] if one[2] is candidate)
        for part, candidate in chosen.items()
    ]
    added = sum(one.cost([chosen[part] for part in one.parts]) for one in joint)
    first = sum(one[0] for one in own) + added
    return ParetoPoint(first, sum(one[1] for one in own), chosen)


class _WeightedConstraint(FlyConstraint):
    """A constraint whose costs count so many times."""

    def __init__(self, inner: FlyConstraint, times: int) -> None:
        self.parts, self.is_hard = inner.parts, inner.is_hard
        self._inner, self._times = inner, times

    def allows(self, chosen: Sequence[Candidate]) -> bool:
        return self._inner.allows(chosen)

    def cost(self, chosen: Sequence[Candidate]) -> int:
        return self._times * self._inner.cost(chosen)

    def verdict(self, chosen: Sequence[Candidate]) -> int | None:
        verdict = self._inner.verdict(chosen)
        return None if verdict is None else self._times * verdict

    def reads(self, part: str) -> tuple[str, ...] | None:
        return self._inner.reads(part)

    def projection(self, part: str, candidate: Candidate) -> object:
        return self._inner.projection(part, candidate)

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:
        return self._inner.may_still_allow(chosen)

    def least_cost(self, chosen: Mapping[str, Candidate]) -> int:
        return self._times * self._inner.least_cost(chosen)
