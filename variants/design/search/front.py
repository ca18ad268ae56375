"""The exact Pareto front of a problem under two costs: nothing is better in both.

Candidates, constraints and a second cost for each candidate come in; the front goes out, with proof
that no other choice is as good in one cost and better in the other. The first cost is what the
search always minimises: candidates' own costs and what constraints add.

First the exact search finds the best answers under some weighings of the two costs. They throw a
*shadow*: what can't come out of it, whatever it is combined with, is left out. Then all that is
left is swept (see `variants.design.search.sweep`), so that the answers that no weighing finds are
found too (the two phases of E. L. Ulungu and J. Teghem, "The two phases method", Foundations of
Computing and Decision Sciences 20, 1995, 149-165).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial

from variants.design import Domain, FlyConstraint, Offer, Watch, uncollected
from variants.design.search.classes import LoneJudge
from variants.design.search.filling import Option, stock_spelt_out
from variants.design.search.shadow import Least, Point, Shadow, front_of
from variants.design.search.solver import BestFirstSolver
from variants.design.search.sweep import Sweep
from variants.model import Candidate

#: The weighings tried, those first that tell most about what is left.
_ORDER = ((1, 1), (16, 1), (1, 16), (4, 1), (1, 4), (2, 1), (1, 2), (8, 1), (1, 8))
#: How often what is out of reach is left out, before it is no longer worth looking.
_ROUNDS = 4
Options = Mapping[str, Sequence[Option]]


@uncollected()
def pareto_front(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Iterable[FlyConstraint],
    second: Callable[[Candidate], int],
    within: int,
    watch: Watch | None = None,
) -> list[Point]:
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
    given = stock_spelt_out(constraints, domains)
    unary = [one for one in given if len(one.parts) == 1]
    joint = [one for one in given if len(one.parts) > 1]
    options: Options = {
        part: _options(part, domain, [one for one in unary if part in one.parts], second)
        for part, domain in domains.items()
    }
    options = _in_reach(options, Shadow([], within))
    if not options or not all(options.values()):
        return []
    known: list[Point] = []
    for slope in _ORDER:
        found = _weighed_best(options, joint, slope, watch)
        if found is None:
            return known
        known = front_of([*known, found] if found.first <= within else known)
        shadow = Shadow(known, within)
        options = _in_reach(options, shadow)
        if not all(options.values()):
            return known
    return front_of([*known, *Sweep(options, joint, watch).run(shadow)])


def _options(
    part: str,
    domain: Sequence[Candidate],
    unary: Sequence[FlyConstraint],
    second: Callable[[Candidate], int],
) -> list[Option]:
    """Return the candidates that constraints over the part alone allow, with their two costs."""
    judge = LoneJudge(part, unary)
    return [
        (candidate.cost + extra, second(candidate), candidate)
        for candidate in domain
        if (extra := judge.verdict(candidate)) is not None
    ]


def _in_reach(options: Options, shadow: Shadow) -> Options:
    """Return the options that may be part of an answer out of the shadow.

    Beside an option every other part costs its least at least, both ways and by each slope.
    """
    for _ in range(_ROUNDS):
        if not all(options.values()):
            break
        least = {part: Least.of(found) for part, found in options.items()}
        whole = Least.sum(least.values())
        near = {
            part: [one for one in found if not shadow.hides(whole.with_option(least[part], one))]
            for part, found in options.items()
        }
        if all(len(near[part]) == len(found) for part, found in options.items()):
            break
        options = near
    return options


def _weighed_best(
    options: Options, joint: Sequence[FlyConstraint], slope: tuple[int, int], watch: Watch
) -> Point | None:
    """Return the best answer under a weighing of the two costs, or None when there is none."""
    a, b = slope
    domains = {
        part: Domain([Offer(a * one[0] + b * one[1], partial(tuple, [one[2]])) for one in found])
        for part, found in options.items()
    }
    weighed = [_Weighed(one, a) for one in joint]
    solver = BestFirstSolver(watch=watch, wanted=1)
    chosen = solver.getSolution(domains, [(one, one.parts) for one in weighed], {})
    if chosen is None:
        return None
    own = [
        next(one for one in options[part] if one[2] is candidate)
        for part, candidate in chosen.items()
    ]
    added = sum(one.cost([chosen[part] for part in one.parts]) for one in joint)
    first = sum(one[0] for one in own) + added
    return Point(first, sum(one[1] for one in own), chosen)


class _Weighed(FlyConstraint):
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
