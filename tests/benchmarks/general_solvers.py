"""The same work done by general solvers, to measure ours against.

Both get more help than a plain statement of the problem would: candidates already sorted into
classes, and constraints already judged on what they look at.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import prod
from time import perf_counter

from ortools.sat.python import cp_model

from variants.design import DesignProblem
from variants.design.search import Network

#: Judgements that an integer model may be made of.
MOST_ROWS = 1_500_000


def integer_best(network: Network, workers: int, deadline: float) -> Iterator[int]:
    """Yield departures of the best dressings by OR-Tools CP-SAT, each cut off before the next.

    Ends without a word when the deadline (of `time.perf_counter`) has passed, and at once when the
    model would be larger than such a solver can be handed.
    """
    rows = sum(
        prod(max(judge.groups[part]) + 1 for part in judge.scope) for judge in network.judges
    )
    if rows > MOST_ROWS:
        return
    model = cp_model.CpModel()
    picks = [
        [model.new_bool_var(f"{part} {one}") for one in range(len(classes))]
        for part, classes in enumerate(network.classes)
    ]
    costs: list[cp_model.LinearExprT] = []
    for row, weights in zip(picks, network.costs, strict=True):
        model.add_exactly_one(row)
        costs += [
            pick * (weight // network.unit) for pick, weight in zip(row, weights, strict=True)
        ]
    for judge in network.judges:
        seen = [_groups(model, picks[part], judge.groups[part]) for part in judge.scope]
        for groups in product(*(range(len(one)) for one in seen)):
            verdict = judge.judge(groups)
            if not verdict:
                continue
            together = [one[group] for one, group in zip(seen, groups, strict=True)]
            if verdict >= network.never:
                model.add_bool_or(one.negated() for one in together)
            else:
                paid = model.new_bool_var("paid")
                model.add_bool_or(*(one.negated() for one in together), paid)
                costs.append(paid * (verdict // network.unit))
    changed = [
        pick
        for part, row in enumerate(picks)
        for one, pick in enumerate(row)
        if network.changed[part] >> one & 1
    ]
    model.add(sum(changed) <= network.at_most_changed)
    made = [_groups(model, row, makes) for row, makes in zip(picks, network.makes, strict=True)]
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    while (left := deadline - perf_counter()) > 0:
        solver.parameters.max_time_in_seconds = left
        if solver.solve(model) != cp_model.OPTIMAL:
            return
        # The objective is a float: rounded, never cut off.
        yield round(solver.objective_value)
        model.add_bool_or(next(one for one in row if solver.value(one)).negated() for row in made)


def _groups(
    model: cp_model.CpModel, picks: list[cp_model.IntVar], groups: list[int]
) -> list[cp_model.IntVar]:
    """Return a variable for each group of classes: whether one of them is picked."""
    members: dict[int, list[cp_model.IntVar]] = {}
    for pick, group in zip(picks, groups, strict=True):
        members.setdefault(group, []).append(pick)
    found = []
    for group in range(max(members) + 1):
        own = members.get(group, [])
        if len(own) == 1:
            found.append(own[0])
            continue
        one = model.new_bool_var(f"group {group}")
        model.add(sum(own) == one)
        found.append(one)
    return found


def enumerated_best(design: DesignProblem, wanted: int, deadline: float) -> list[int] | None:
    """Return the departures of the best dressings by the library's own solver, all sorted.

    None when the deadline passes before all solutions have been seen.
    """
    best: dict[tuple[str, ...], int] = {}
    for number, solution in enumerate(design.problem().getSolutionIter()):
        if number % 256 == 0 and perf_counter() > deadline:
            return None
        total = sum(one.cost for one in solution.values()) + sum(
            constraint.cost([solution[part] for part in constraint.parts])
            for constraint in design.constraints
        )
        dressing = tuple(solution[part].identity for part in design.domains)
        best[dressing] = min(total, best.get(dressing, total))
    return sorted(best.values())[:wanted]
