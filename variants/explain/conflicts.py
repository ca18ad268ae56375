"""Why there is no variant: a smallest set of constraints that can't be kept together.

The set is found by QuickXplain (U. Junker, "QuickXplain: preferred explanations and relaxations for
over-constrained problems", AAAI 2004): every constraint in it is needed for the contradiction.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from variants.model import Candidate
from variants.problem import ChangesConstraint, DesignProblem, FlyConstraint, RuleConstraint
from variants.rulebook import Number
from variants.search import best_first, compile_network

One = TypeVar("One")


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


def find_conflict(design: DesignProblem) -> Conflict | None:
    """Return why a design problem has no variant, or None when it has one."""
    if design.empty_parts:
        return Conflict(design.empty_parts, ())
    hard = [constraint for constraint in design.constraints if _can_forbid(constraint)]
    if _is_consistent(design, hard):
        return None
    conflict = quickxplain(hard, lambda chosen: _is_consistent(design, chosen))
    return Conflict((), tuple(Obstacle(one, _nearest(design, one)) for one in conflict))


def _can_forbid(constraint: FlyConstraint) -> bool:
    return not isinstance(constraint, RuleConstraint) or constraint.rule.is_hard


def _is_consistent(design: DesignProblem, constraints: Sequence[FlyConstraint]) -> bool:
    network = compile_network(
        design.domains, [(constraint, constraint.parts) for constraint in constraints]
    )
    return next(best_first(network), None) is not None


def _nearest(design: DesignProblem, constraint: FlyConstraint) -> NearMiss | None:
    """Return the candidates of one or two parts that miss a rule by the least."""
    if isinstance(constraint, ChangesConstraint) or not isinstance(constraint, RuleConstraint):
        return None
    if len(constraint.parts) > 2:
        return None
    misses = [
        miss for chosen in _choices(design, constraint) if (miss := _miss(constraint, chosen))
    ]
    return min(misses, key=lambda miss: miss.missed_by, default=None)


def _choices(design: DesignProblem, constraint: RuleConstraint) -> list[tuple[Candidate, ...]]:
    first, *others = (design.domains[part] for part in constraint.parts)
    if not others:
        return [(one,) for one in first]
    return [(one, other) for one in first for other in others[0]]


def _miss(constraint: RuleConstraint, chosen: tuple[Candidate, ...]) -> NearMiss | None:
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
