"""Why there is no variant: a smallest set of constraints that can't be kept together.

The set is found by QuickXplain (U. Junker, "QuickXplain: preferred explanations and relaxations for
over-constrained problems", AAAI 2004): every constraint in it is needed for the contradiction.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from variants.design import DesignProblem, Domain, FlyConstraint, RuleConstraint, Watch
from variants.design.search import compile_network, solve_network
from variants.model import Candidate
from variants.rulebook import Number

One = TypeVar("One")
#: Of a part that only stands beside, so many candidates are looked at, nearest first.
_NEAREST = 12


@dataclass(frozen=True, slots=True)
class NearMiss:
    """The candidates that came nearest to keeping a rule, and the number that misses."""

    chosen: tuple[Candidate, ...]
    number: Number
    missed_by: float


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One constraint of a conflict, with what came nearest to keeping it."""

    constraint: FlyConstraint
    nearest: NearMiss | None


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why no variant exists.

    Attributes
    ----------
    empty_parts : tuple of str
        Parts for which the box holds nothing at all that could serve.
    obstacles : tuple of Obstacle
        Constraints that can't be kept together with this box; each of them is needed.
    """

    empty_parts: tuple[str, ...]
    obstacles: tuple[Obstacle, ...]


def quickxplain(
    constraints: Sequence[One], is_consistent: Callable[[Sequence[One]], bool]
) -> list[One]:
    """Return a minimal subset that is inconsistent; earlier constraints are kept by preference.

    Parameters
    ----------
    constraints : sequence
        Inconsistent as a whole, consistent when empty.
    is_consistent : callable

    Notes
    -----
    O(k log(n/k) + k) checks for a conflict of k among n constraints.

    Examples
    --------
    >>> quickxplain([1, 2, 3, 4], lambda chosen: not {2, 4} <= set(chosen))
    [4, 2]
    """

    def search(background: list[One], added: bool, rest: list[One]) -> list[One]:
        if added and not is_consistent(background):
            return []
        if len(rest) == 1:
            return rest
        half = len(rest) // 2
        first, second = rest[:half], rest[half:]
        from_second = search(background + first, bool(first), second)
        from_first = search(background + from_second, bool(from_second), first)
        return from_second + from_first

    return search([], False, list(constraints))


def find_conflict(design: DesignProblem, watch: Watch | None = None) -> Conflict | None:
    """Return why a design problem has no variant, or None when it has one.

    Raises
    ------
    TimeUpError
        When the watch says so.
    """
    watch = watch or Watch()
    empty = design.find_empty_parts(watch)
    if empty:
        return Conflict(empty, ())
    for domain in design.domains.values():
        if isinstance(domain, Domain):
            domain.make_all(watch)
    hard = [constraint for constraint in design.constraints if _can_forbid(constraint)]
    if _is_consistent(design, hard, watch):
        return None
    conflict = quickxplain(hard, lambda chosen: _is_consistent(design, chosen, watch))
    return Conflict((), tuple(Obstacle(one, nearest_miss(design, one)) for one in conflict))


def _can_forbid(constraint: FlyConstraint) -> bool:
    return not isinstance(constraint, RuleConstraint) or constraint.rule.is_hard


def _is_consistent(
    design: DesignProblem, constraints: Sequence[FlyConstraint], watch: Watch
) -> bool:
    watch.check()
    network = compile_network(design.domains, constraints)
    return next(solve_network(network), None) is not None


def nearest_miss(design: DesignProblem, constraint: FlyConstraint) -> NearMiss | None:
    """Return the candidates of one or two parts that miss a rule by the least.

    Of those that keep most of the other rules about the same parts; None where a rule tests no
    number.
    """
    if not isinstance(constraint, RuleConstraint) or len(constraint.parts) > 2:
        return None
    others = [
        one
        for one in design.constraints
        if isinstance(one, RuleConstraint)
        and one is not constraint
        and one.is_hard
        and set(one.parts) <= set(constraint.parts)
    ]
    misses = [
        (_breaks(others, constraint, chosen), place, miss)
        for place, chosen in enumerate(_choices(design, constraint))
        if (miss := _measure_miss(constraint, chosen))
    ]
    best = min(misses, key=lambda one: (one[0], one[2].missed_by, one[1]), default=None)
    return best[2] if best else None


def _breaks(
    others: Sequence[RuleConstraint], constraint: RuleConstraint, chosen: Sequence[Candidate]
) -> int:
    """Return how many of the other rules the candidates break."""
    beside = dict(zip(constraint.parts, chosen, strict=True))
    return sum(not one.allows([beside[part] for part in one.parts]) for one in others)


def _choices(design: DesignProblem, constraint: RuleConstraint) -> Iterator[tuple[Candidate, ...]]:
    """Yield candidates of one part, or of two: every one of the second with the nearest."""
    first, *others = (design.domains[part] for part in constraint.parts)
    if not others:
        yield from ((one,) for one in first)
        return
    nearest = [sorted(one, key=_cost_key)[:_NEAREST] for one in (first, others[0])]
    yield from ((one, other) for one in first for other in nearest[1])
    yield from ((one, other) for one in nearest[0] for other in others[0])


def _cost_key(candidate: Candidate) -> tuple[int, tuple[str, ...]]:
    return candidate.cost, candidate.key


def _measure_miss(constraint: RuleConstraint, chosen: tuple[Candidate, ...]) -> NearMiss | None:
    finding = constraint.finding(chosen)
    if finding.kept:
        return None
    for number in finding.numbers:
        if not isinstance(number.value, int | float):
            continue
        if number.low is not None and number.value < number.low:
            return NearMiss(chosen, number, number.low - number.value)
        if number.high is not None and number.value > number.high:
            return NearMiss(chosen, number, number.value - number.high)
    return None
