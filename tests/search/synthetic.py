"""Small problems made of numbers alone, and their answers worked out the long way."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from variants.model import Candidate, Term, Way
from variants.problem import ChangesConstraint, FlyConstraint


class TableConstraint(FlyConstraint):
    """Costs by the candidates' `kind`; None forbids."""

    def __init__(
        self, parts: Sequence[str], cost_of: Callable[[tuple[object, ...]], int | None]
    ) -> None:
        self.parts = tuple(parts)
        self._cost_of = cost_of

    def _look(self, chosen: Sequence[Candidate]) -> int | None:
        return self._cost_of(tuple(one.attributes["size"] for one in chosen))

    def allows(self, chosen: Sequence[Candidate]) -> bool:
        return self._look(chosen) is not None

    def cost(self, chosen: Sequence[Candidate]) -> int:
        return self._look(chosen) or 0

    def projection(self, part: str, candidate: Candidate) -> object:
        return candidate.attributes["size"]


@dataclass(frozen=True)
class Small:
    """A small problem: domains by part, and constraints."""

    domains: Mapping[str, list[Candidate]]
    constraints: list[FlyConstraint]

    @property
    def scoped(self) -> list[tuple[FlyConstraint, tuple[str, ...]]]:
        return [(constraint, constraint.parts) for constraint in self.constraints]


def candidate(part: str, number: int, kind: int, cost: int) -> Candidate:
    way = Way.AS_WRITTEN if number == 0 else Way.SUBSTITUTE
    terms = (Term("cost", cost),) if cost else ()
    return Candidate(part, way, (), (), {"size": kind}, terms, (f"{part}{number:03}",))


def small_problem(seed: int) -> Small:
    """Return a random problem of 2 to 5 parts; each third one limits the number of changes."""
    dice = random.Random(seed)
    parts = [f"part{number}" for number in range(dice.randint(2, 5))]
    domains = {
        part: [
            candidate(part, number, dice.randrange(3), dice.choice([0, 1, 2, 3, 5, 8, 13]) * 10)
            for number in range(dice.randint(1, 5))
        ]
        for part in parts
    }
    constraints: list[FlyConstraint] = []
    for arity, most in ((1, 2), (2, 5), (3, 2)):
        for _ in range(dice.randint(0, most)):
            if arity <= len(parts):
                scope = dice.sample(parts, arity)
                constraints.append(TableConstraint(scope, _costs(dice, arity)))
    if seed % 3 == 0:
        constraints.append(ChangesConstraint(parts, dice.randint(0, len(parts))))
    return Small(domains, constraints)


def _costs(dice: random.Random, arity: int) -> Callable[[tuple[object, ...]], int | None]:
    drawn: dict[tuple[object, ...], int | None] = {
        key: dice.choice([None, 0, 0, 0, 7, 20]) for key in product(range(3), repeat=arity)
    }
    return drawn.__getitem__


def cost_of(problem: Small, chosen: Mapping[str, Candidate]) -> int | None:
    """Return what a complete choice costs, or None when something forbids it."""
    total = sum(one.cost for one in chosen.values())
    for constraint in problem.constraints:
        picked = [chosen[part] for part in constraint.parts]
        if not constraint.allows(picked):
            return None
        total += constraint.cost(picked)
    return total


def brute_force(problem: Small) -> list[tuple[int, tuple[str, ...]]]:
    """Return every solution as (cost, its candidates' keys), cheapest first."""
    found = []
    for combination in product(*problem.domains.values()):
        chosen = dict(zip(problem.domains, combination, strict=True))
        cost = cost_of(problem, chosen)
        if cost is not None:
            found.append((cost, keys(chosen)))
    return sorted(found)


def keys(chosen: Mapping[str, Candidate]) -> tuple[str, ...]:
    return tuple(one.key[0] for one in chosen.values())
