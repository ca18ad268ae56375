"""The K best are the K best: against brute force, and against an independent CP-SAT model."""

from __future__ import annotations

from itertools import islice, product

import pytest
from constraint import Problem
from ortools.sat.python import cp_model

from tests.search.synthetic import Small, brute_force, cost_of, keys, small_problem
from variants.search import BestFirstSolver, best_first, best_of_each_change, compile_network
from variants.search.solver import as_assignment

SEEDS = range(300)
BEST = 8


def found(problem: Small) -> list[tuple[int, tuple[str, ...]]]:
    network = compile_network(problem.domains, problem.scoped)
    return [(cost, keys(as_assignment(network, chosen))) for cost, chosen in best_first(network)]


@pytest.mark.parametrize("seed", SEEDS)
def test_all_solutions_come_in_the_order_of_brute_force(seed: int) -> None:
    problem = small_problem(seed)
    ours, theirs = found(problem), brute_force(problem)
    assert [cost for cost, _ in ours] == [cost for cost, _ in theirs]
    assert sorted(ours) == theirs


@pytest.mark.parametrize("seed", SEEDS)
def test_the_best_cost_as_much_as_those_of_cp_sat(seed: int) -> None:
    problem = small_problem(seed)
    ours = [cost for cost, _ in islice(iter(found(problem)), BEST)]
    assert ours == cp_sat_best(problem, BEST)


@pytest.mark.parametrize("seed", SEEDS)
def test_different_gives_the_best_of_every_set_of_changes(seed: int) -> None:
    problem = small_problem(seed)
    network = compile_network(problem.domains, problem.scoped)
    ours = {}
    costs = []
    if not network.is_hopeless:
        for cost, chosen in best_of_each_change(network):
            picked = as_assignment(network, chosen)
            changed = tuple(one.is_changed for one in picked.values())
            assert changed not in ours
            ours[changed] = cost
            costs.append(cost)
    assert costs == sorted(costs)
    assert ours == best_by_change(problem)


@pytest.mark.parametrize("seed", range(40))
def test_the_librarys_own_solver_finds_the_same_solutions(seed: int) -> None:
    problem = small_problem(seed)
    stated, ours = Problem(), Problem(BestFirstSolver())
    for part, domain in problem.domains.items():
        stated.addVariable(part, list(domain))
        ours.addVariable(part, list(domain))
    for constraint in problem.constraints:
        stated.addConstraint(constraint, list(constraint.parts))
        ours.addConstraint(constraint, list(constraint.parts))
    mine = [keys({part: one[part] for part in problem.domains}) for one in ours.getSolutions()]
    theirs = [keys({part: one[part] for part in problem.domains}) for one in stated.getSolutions()]
    assert sorted(mine) == sorted(theirs)


@pytest.mark.parametrize("seed", range(60))
def test_the_same_problem_gives_the_same_answer_in_the_same_order(seed: int) -> None:
    assert found(small_problem(seed)) == found(small_problem(seed))


def best_by_change(problem: Small) -> dict[tuple[bool, ...], int]:
    best: dict[tuple[bool, ...], int] = {}
    for combination in product(*problem.domains.values()):
        cost = cost_of(problem, dict(zip(problem.domains, combination, strict=True)))
        changed = tuple(one.is_changed for one in combination)
        if cost is not None and cost < best.get(changed, cost + 1):
            best[changed] = cost
    return best


def cp_sat_best(problem: Small, best: int) -> list[int]:
    """Return the best costs by CP-SAT: one Boolean a candidate, tables as tuples."""
    model = cp_model.CpModel()
    picks = {
        part: [model.new_bool_var(one.key[0]) for one in domain]
        for part, domain in problem.domains.items()
    }
    paid = [
        one.cost * pick
        for part, domain in problem.domains.items()
        for one, pick in zip(domain, picks[part], strict=True)
    ]
    for choices in picks.values():
        model.add_exactly_one(choices)
    for constraint in problem.constraints:
        offers = [
            list(zip(problem.domains[part], picks[part], strict=True)) for part in constraint.parts
        ]
        for combination in product(*offers):
            chosen = [one for one, _ in combination]
            literals = [pick for _, pick in combination]
            if not constraint.allows(chosen):
                model.add_bool_or([~pick for pick in literals])
            elif cost := constraint.cost(chosen):
                together = model.new_bool_var("")
                model.add_bool_or([*(~pick for pick in literals), together])
                paid.append(cost * together)
    model.minimize(sum(paid))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    costs: list[int] = []
    while len(costs) < best and solver.solve(model) == cp_model.OPTIMAL:
        costs.append(round(solver.objective_value))
        taken = [pick for choices in picks.values() for pick in choices if solver.value(pick)]
        model.add_bool_or([~pick for pick in taken])
    return costs
