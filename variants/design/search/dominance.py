"""Prunes candidates that the part as written dominates.

A changed candidate is dominated when some candidate as written costs no more alone, and beside
every candidate of every other part is allowed wherever the changed one is and costs no more there
(E. C. Freuder, "Eliminating interchangeable values", 1991, calls the one substitutable for the
other). Whatever solution holds the dominated one, putting the written one in its place keeps every
rule and costs no more, so the change is needless.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import replace

from variants.design import DesignProblem, Domain, FlyConstraint, Watch
from variants.model import Candidate

_FORBIDDEN = 1 << 40
#: A part with more candidates is left alone: comparing them would take longer than it spares.
MOST_COMPARED = 5_000


def remove_dominated(design: DesignProblem, watch: Watch | None = None) -> DesignProblem:
    """Return the problem without the changed candidates that one as written dominates.

    Raises
    ------
    TimeUpError
        When the watch says so.

    Notes
    -----
    Complexity: for each part, each constraint is judged once for each pair of projections.
    """
    watch = watch or Watch()
    large = {
        part
        for part, domain in design.domains.items()
        if isinstance(domain, Domain) and not domain.make_all(watch, MOST_COMPARED)
    }
    domains = {
        part: domain if part in large else _prune(design, part, domain, large, watch)
        for part, domain in design.domains.items()
    }
    return replace(design, domains=domains)


def _prune(
    design: DesignProblem,
    part: str,
    domain: Sequence[Candidate],
    large: Container[str],
    watch: Watch,
) -> list[Candidate]:
    written = [one for one in domain if not one.is_changed]
    if not written:
        return list(domain)
    rows = [
        _ConstraintRows(constraint, part, design, large)
        for constraint in design.constraints
        if part in constraint.parts
    ]
    kept = []
    for one in domain:
        watch.look()
        if not one.is_changed or not any(_dominates(own, one, rows) for own in written):
            kept.append(one)
    return kept


def _dominates(own: Candidate, other: Candidate, rows: Iterable[_ConstraintRows]) -> bool:
    return own.cost <= other.cost and all(row.is_never_worse(own, other) for row in rows)


class _ConstraintRows:
    """What one constraint says of candidates of one part, beside all candidates of another part."""

    def __init__(
        self, constraint: FlyConstraint, part: str, design: DesignProblem, large: Container[str]
    ) -> None:
        self._constraint, self._part = constraint, part
        self._is_compared = len(constraint.parts) <= 2 and not any(
            other in large for other in constraint.parts
        )
        self._place = constraint.parts.index(part)
        self._rows: dict[object, list[int]] = {}
        self._others: list[Candidate] = []
        if len(constraint.parts) == 2 and self._is_compared:
            other = constraint.parts[1 - self._place]
            seen = {constraint.projection(other, one): one for one in design.domains[other]}
            self._others = list(seen.values())

    def is_never_worse(self, own: Candidate, other: Candidate) -> bool:
        """Tell whether the constraint likes the one at least as well as the other, always."""
        mine, theirs = self._projection(own), self._projection(other)
        if mine == theirs:
            return True
        if not self._is_compared:
            return False
        return all(
            here <= there
            for here, there in zip(self._row(mine, own), self._row(theirs, other), strict=True)
        )

    def _projection(self, candidate: Candidate) -> object:
        return self._constraint.projection(self._part, candidate)

    def _row(self, key: object, candidate: Candidate) -> list[int]:
        row = self._rows.get(key)
        if row is None:
            if len(self._constraint.parts) == 1:
                choices: list[list[Candidate]] = [[candidate]]
            else:
                choices = [
                    [candidate, one] if self._place == 0 else [one, candidate]
                    for one in self._others
                ]
            verdicts = [self._constraint.verdict(chosen) for chosen in choices]
            row = [_FORBIDDEN if verdict is None else verdict for verdict in verdicts]
            self._rows[key] = row
        return row
