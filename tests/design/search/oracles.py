"""Answers found without the search: by looking at every choice, and by an integer solver.

Written to be read, not to be fast.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from ortools.sat.python import cp_model

from tests.design.search.problems import SmallProblem
from variants.design import ChangesConstraint, StockConstraint
from variants.model import Candidate

#: A departure and what fills each part.
Answer = tuple[int, tuple[Candidate, ...]]


def departure(small: SmallProblem, chosen: tuple[Candidate, ...]) -> int | None:
    """Return what a choice departs, or None when a constraint forbids it."""
    by_part = dict(zip(small.domains, chosen, strict=True))
    total = sum(one.cost for one in chosen)
    for constraint in small.constraints:
        seen = [by_part[part] for part in constraint.parts]
        if not constraint.allows(seen):
            return None
        total += constraint.cost(seen)
    return total


def every_answer(small: SmallProblem) -> list[Answer]:
    """Return all answers by departure, ties by the candidates' keys, part by part."""
    found = []
    for chosen in product(*small.domains.values()):
        total = departure(small, chosen)
        if total is not None:
            found.append((total, chosen))
    return sorted(found, key=lambda answer: (answer[0], [one.key for one in answer[1]]))


def first_of_each_dressing(answers: Iterable[Answer]) -> list[Answer]:
    """Keep the first answer of those that make the same dressing."""
    seen: dict[tuple[str, ...], Answer] = {}
    for answer in answers:
        seen.setdefault(tuple(one.identity for one in answer[1]), answer)
    return list(seen.values())


def first_of_each_change(answers: Iterable[Answer]) -> list[Answer]:
    """Keep the first answer of those that change the same parts."""
    seen: dict[tuple[bool, ...], Answer] = {}
    for answer in answers:
        seen.setdefault(tuple(one.is_changed for one in answer[1]), answer)
    return list(seen.values())


def integer_answers(small: SmallProblem) -> Iterator[Answer]:
    """Yield best answers of an integer model, each cut off before the next is looked for."""
    model = cp_model.CpModel()
    picks = {
        part: [model.new_bool_var(f"{part} {number}") for number in range(len(domain))]
        for part, domain in small.domains.items()
    }
    costs: list[cp_model.LinearExprT] = []
    for part, domain in small.domains.items():
        model.add_exactly_one(picks[part])
        costs += [pick * one.cost for pick, one in zip(picks[part], domain, strict=True)]
    for constraint in small.constraints:
        if isinstance(constraint, ChangesConstraint):
            _limit_changes(model, small, picks, constraint.at_most)
        elif isinstance(constraint, StockConstraint):
            _limit_stock(model, small, picks, constraint.parts)
        else:
            costs += _tabulate(model, small, picks, constraint)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    while solver.solve(model) == cp_model.OPTIMAL:
        numbers = [
            next(number for number, pick in enumerate(row) if solver.value(pick))
            for row in picks.values()
        ]
        chosen = tuple(
            domain[number] for domain, number in zip(small.domains.values(), numbers, strict=True)
        )
        # The solver's objective is a float: rounded, never cut off.
        yield round(solver.objective_value), chosen
        model.add_bool_or(
            row[number].negated() for row, number in zip(picks.values(), numbers, strict=True)
        )


Picks = dict[str, list[cp_model.IntVar]]


def _tabulate(
    model: cp_model.CpModel, small: SmallProblem, picks: Picks, constraint: object
) -> list[cp_model.LinearExprT]:
    """State a constraint as the list of its allowed choices, each with its cost."""
    parts = constraint.parts  # type: ignore[attr-defined]
    places = [range(len(small.domains[part])) for part in parts]
    options = []
    for numbers in product(*places):
        chosen = [small.domains[part][at] for part, at in zip(parts, numbers, strict=True)]
        if constraint.allows(chosen):  # type: ignore[attr-defined]
            option = model.new_bool_var("option")
            for part, at in zip(parts, numbers, strict=True):
                model.add_implication(option, picks[part][at])
            options.append((option, constraint.cost(chosen)))  # type: ignore[attr-defined]
    model.add_exactly_one(option for option, _ in options)
    return [option * cost for option, cost in options if cost]


def _limit_changes(model: cp_model.CpModel, small: SmallProblem, picks: Picks, most: int) -> None:
    changed = [
        pick
        for part, domain in small.domains.items()
        for pick, one in zip(picks[part], domain, strict=True)
        if one.is_changed
    ]
    model.add(sum(changed) <= most)


def _limit_stock(
    model: cp_model.CpModel, small: SmallProblem, picks: Picks, parts: Iterable[str]
) -> None:
    used: dict[str, list[cp_model.LinearExprT]] = {}
    left: dict[str, int] = {}
    for part in parts:
        for pick, one in zip(picks[part], small.domains[part], strict=True):
            for (item,) in one.items:
                if item.count is not None:
                    used.setdefault(item.id, []).append(pick * one.uses)
                    left[item.id] = item.count
    for item_id, terms in used.items():
        model.add(sum(terms) <= left[item_id])
