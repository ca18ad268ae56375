"""Stock shared out: against OR-Tools CP-SAT on random orders."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from variants.survey import allocation
from variants.survey.allocation import Demand, TyingWay, allocate

CASES = 500


def random_orders(seed: int) -> tuple[list[Demand], dict[str, float]]:
    draw = random.Random(seed)
    stores = {f"store {n}": float(draw.randint(1, 9)) for n in range(draw.randint(1, 4))}
    pieces = draw.random() < 0.5
    orders = []
    for _ in range(draw.randint(1, 4)):
        ways = []
        for _ in range(draw.randint(1, 4)):
            count = draw.randint(0, 1 if pieces else min(2, len(stores)))
            taken = draw.sample(sorted(stores), count)
            takes = {s: 1.0 if pieces else draw.choice((0.5, 1.0, 1.5, 2.0)) for s in taken}
            ways.append(TyingWay(draw.randint(0, 900), takes))
        orders.append(Demand(draw.randint(1, 6), tuple(ways)))
    return orders, stores


def by_cp_sat(orders: list[Demand], stores: dict[str, float]) -> tuple[int, int]:
    """Flies tied and departure, by an integer model solved twice."""
    model = cp_model.CpModel()
    counts = [[model.new_int_var(0, order.wanted, "") for _ in order.ways] for order in orders]
    for order, row in zip(orders, counts, strict=True):
        model.add(sum(row) <= order.wanted)
    for store, have in stores.items():
        model.add(
            sum(
                round(2 * way.takes.get(store, 0.0)) * count
                for order, row in zip(orders, counts, strict=True)
                for way, count in zip(order.ways, row, strict=True)
            )
            <= round(2 * have)
        )
    tied = sum(count for row in counts for count in row)
    departure = sum(
        way.departure * count
        for order, row in zip(orders, counts, strict=True)
        for way, count in zip(order.ways, row, strict=True)
    )
    model.maximize(tied * 100_000 - departure)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.value(tied)), int(solver.value(departure))


def compare(seed: int) -> str:
    orders, stores = random_orders(seed)
    found = allocate(orders, stores)
    assert (found.tied, found.departure) == by_cp_sat(orders, stores), seed
    for store, have in stores.items():
        taken = sum(
            count * way.takes.get(store, 0.0)
            for order, row in zip(orders, found.flies, strict=True)
            for way, count in zip(order.ways, row, strict=True)
        )
        assert taken <= have + 1e-9
    for order, row in zip(orders, found.flies, strict=True):
        assert sum(row) <= order.wanted
    return found.method


def test_flies_and_departure_are_those_of_an_integer_model() -> None:
    assert {compare(seed) for seed in range(CASES)} == {"flow", "search"}


def test_step_by_step_never_takes_what_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(allocation, "MOST_SHARES", 0)
    methods = set()
    for seed in range(60):
        orders, stores = random_orders(seed)
        found = allocate(orders, stores)
        methods.add(found.method)
        tied, departure = by_cp_sat(orders, stores)
        assert (-found.tied, found.departure) >= (-tied, departure if found.tied == tied else 0)
        for store, have in stores.items():
            taken = sum(
                count * way.takes.get(store, 0.0)
                for order, row in zip(orders, found.flies, strict=True)
                for way, count in zip(order.ways, row, strict=True)
            )
            assert taken <= have + 1e-9
    assert methods == {"flow", "steps"}
