"""Small random problems for the search, made of synthetic candidates and constraints.

Attributes are small whole numbers under plain names; constraints judge by tables drawn from a seed,
so that they have no structure the search could have been made for.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from constraint import Problem, Solver

from variants.design import ChangesConstraint, FlyConstraint, StockConstraint, pose_problem
from variants.design.search import Network, compile_network
from variants.model import Candidate, Colour, Ingredient, Item, Material, Term, Way
from variants.units import parse_quantity

ATTRIBUTES = ("length", "shade", "grade")


class TableConstraint(FlyConstraint):
    """Judges by a table over one attribute of each part; None forbids."""

    def __init__(
        self, parts: Sequence[str], attribute: str, table: Callable[[tuple[Any, ...]], int | None]
    ) -> None:
        self.parts = tuple(parts)
        self.attribute = attribute
        self._table = table

    def verdict(self, chosen: Sequence[Candidate]) -> int | None:
        return self._table(tuple(one.attributes[self.attribute] for one in chosen))

    def allows(self, chosen: Sequence[Candidate]) -> bool:
        return self.verdict(chosen) is not None

    def cost(self, chosen: Sequence[Candidate]) -> int:
        return self.verdict(chosen) or 0

    def projection(self, part: str, candidate: Candidate) -> object:
        return candidate.attributes[self.attribute]


class ReadingConstraint(TableConstraint):
    """The same, and says which attribute it reads."""

    def reads(self, part: str) -> tuple[str, ...]:
        return (self.attribute,)


class TotalConstraint(FlyConstraint):
    """A total over many parts: beyond one bound it costs, beyond another it is forbidden."""

    def __init__(self, parts: Sequence[str], free: int, most: int) -> None:
        self.parts = tuple(parts)
        self.free, self.most = free, most

    def _total(self, chosen: Sequence[Candidate]) -> int:
        return sum(value for one in chosen if isinstance(value := one.attributes["grade"], int))

    def allows(self, chosen: Sequence[Candidate]) -> bool:
        return self._total(chosen) <= self.most

    def cost(self, chosen: Sequence[Candidate]) -> int:
        return 5 * max(0, self._total(chosen) - self.free)

    def projection(self, part: str, candidate: Candidate) -> object:
        return candidate.attributes["grade"]

    def may_still_allow(self, chosen: Mapping[str, Candidate]) -> bool:
        return self.allows(tuple(chosen.values()))

    def least_cost(self, chosen: Mapping[str, Candidate]) -> int:
        return self.cost(tuple(chosen.values()))


@dataclass(frozen=True)
class SmallProblem:
    """A problem small enough for every choice to be looked at."""

    domains: Mapping[str, list[Candidate]]
    constraints: tuple[FlyConstraint, ...]

    def network(self) -> Network:
        return compile_network(self.domains, self.constraints)

    def problem(self, solver: Solver | None = None) -> Problem:
        return pose_problem(self.domains, self.constraints, solver)


@cache
def _item(name: str, left: int | None) -> Item:
    amount = None if left is None else parse_quantity(f"{left} pieces")
    return Item(name, Material(name, name), amount=amount)


@cache
def _ingredient(name: str) -> Ingredient:
    return Ingredient(Material(name, name), Colour("grey", "grey"))


def candidate(
    part: str,
    key: str,
    cost: int,
    attributes: Mapping[str, int],
    *,
    way: Way = Way.SUBSTITUTE,
    made_of: str = "",
    item: tuple[str, int | None] | None = None,
    uses: int = 1,
) -> Candidate:
    """Return a candidate; without ``made_of`` it makes something that no other makes."""
    return Candidate(
        part,
        way,
        (_ingredient(made_of or f"{part} {key}"),),
        ((_item(*(item or (f"{part} {key}", None))),),),
        dict(attributes),
        (Term("material", cost),) if cost else (),
        (key,),
        uses,
    )


def random_problem(seed: int) -> SmallProblem:
    """Return a problem of 2 to 5 parts, most with every kind of rule, stock and a limit."""
    draw = random.Random(seed)
    parts = [f"part {number}" for number in range(draw.randint(2, 5))]
    widest = {2: 7, 3: 6, 4: 5, 5: 4}[len(parts)]
    domains = {part: _random_domain(draw, part, draw.randint(1, widest)) for part in parts}
    constraints: list[FlyConstraint] = []
    for part in parts:
        if draw.random() < 0.5:
            constraints.append(_random_table(draw, (part,), 0.1))
    for _ in range(draw.randint(0, 2 * len(parts))):
        constraints.append(_random_table(draw, draw.sample(parts, 2), draw.choice((0, 0.1, 0.3))))
    for _ in range(draw.randint(0, 2)):
        if len(parts) > 2:
            scope = draw.sample(parts, draw.randint(3, len(parts)))
            constraints.append(_random_table(draw, scope, 0.2))
    if draw.random() < 0.4:
        constraints.append(TotalConstraint(parts, draw.randint(1, 8), draw.randint(5, 12)))
    if draw.random() < 0.6:
        constraints.append(StockConstraint(parts))
    if draw.random() < 0.5:
        constraints.append(ChangesConstraint(parts, draw.randint(len(parts) // 2, len(parts))))
    draw.shuffle(constraints)
    return SmallProblem(domains, tuple(constraints))


def _random_domain(draw: random.Random, part: str, size: int) -> list[Candidate]:
    domain = []
    for number in range(size):
        shared = draw.random() < 0.4
        name = f"scarce {draw.randint(0, 2)}"
        domain.append(
            candidate(
                part,
                f"{number:02}",
                draw.choice((0, 0, 3, 3, 7, 10, 25, 40)),
                {name: draw.randint(0, 3) for name in ATTRIBUTES},
                way=Way.AS_WRITTEN if draw.random() < 0.3 else Way.SUBSTITUTE,
                made_of=f"stuff {draw.randint(0, 3)}",
                item=(name, 1 + int(name[-1])) if shared else None,
                uses=draw.randint(1, 2),
            )
        )
    draw.shuffle(domain)
    return domain


def _random_table(draw: random.Random, parts: Sequence[str], forbidden: float) -> TableConstraint:
    seed, is_soft = draw.random(), draw.random() < 0.6

    @cache
    def table(seen: tuple[Any, ...]) -> int | None:
        own = random.Random(f"{seed} {seen}")
        if own.random() < forbidden:
            return None
        return own.choice((0, 0, 4, 9, 15)) if is_soft else 0

    kind = draw.choice((TableConstraint, ReadingConstraint))
    made = kind(parts, draw.choice(ATTRIBUTES), table)
    made.is_hard = forbidden > 0
    return made
