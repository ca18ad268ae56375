"""The search finds what looking at every choice finds, in the same order."""

from __future__ import annotations

from itertools import islice

import pytest

from tests.breadth import seeds
from tests.design.search.oracles import (
    Answer,
    every_answer,
    first_of_each_change,
    first_of_each_dressing,
    integer_answers,
)
from tests.design.search.problems import SmallProblem, random_problem
from variants.design.search import (
    BestFirst,
    BestFirstSolver,
    EachChange,
    best_first,
    best_of_each_change,
    bounds,
    elimination,
    judge,
    widening,
    windows,
)

SEEDS = range(400)
FEW = 12


def _named(small: SmallProblem, answers: list[tuple[int, tuple[int, ...]]]) -> list[Answer]:
    network = small.network()
    return [
        (cost, tuple(network.domains[at][number] for at, number in enumerate(chosen)))
        for cost, chosen in answers
    ]


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_all_answers_come_in_the_order_of_brute_force(seed: int) -> None:
    small = random_problem(seed)
    assert _named(small, list(best_first(small.network()))) == every_answer(small)


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_each_dressing_comes_once_at_its_least_departure(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(best_first(small.network(), distinct=True)))
    assert found == first_of_each_dressing(every_answer(small))


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_the_best_of_each_set_of_changed_parts_comes_in_order(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(best_of_each_change(small.network())))
    assert found == first_of_each_change(every_answer(small))


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
def test_an_integer_solver_finds_the_same_departures_and_choices(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(best_first(small.network())))
    other = list(islice(integer_answers(small), FEW))
    assert [cost for cost, _ in other] == [cost for cost, _ in found[:FEW]]
    assert len(other) == min(FEW, len(found))
    # Of equal departures the integer solver may name any: as sets they agree below the last one.
    last = other[-1][0] if len(other) == FEW else 1 + max((cost for cost, _ in found), default=0)
    assert {one for one in other if one[0] < last} == {one for one in found if one[0] < last}


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
def test_the_librarys_own_solver_enumerates_the_same_choices(seed: int) -> None:
    small = random_problem(seed)
    ours = small.problem(BestFirstSolver()).getSolutions()
    theirs = small.problem().getSolutions()

    def as_set(solutions: list[dict[str, object]]) -> set[tuple[int, ...]]:
        return {tuple(id(one[part]) for part in small.domains) for one in solutions}

    assert len(ours) == len(theirs)
    assert as_set(ours) == as_set(theirs)


def test_random_problems_are_worth_solving() -> None:
    counts = [len(every_answer(random_problem(seed))) for seed in SEEDS]
    assert sum(count == 0 for count in counts) < len(SEEDS) / 2
    assert sum(count > FEW for count in counts) > len(SEEDS) / 4


@pytest.mark.parametrize("seed", seeds(range(0, 400, 2)))
def test_judges_that_the_bound_leaves_out_change_nothing(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(elimination, "WIDEST_CONTEXT", 1)
    small = random_problem(seed)
    answers = every_answer(small)
    assert _named(small, list(best_first(small.network()))) == answers
    found = _named(small, list(best_first(small.network(), distinct=True)))
    assert found == first_of_each_dressing(answers)
    found = _named(small, list(best_of_each_change(small.network())))
    assert found == first_of_each_change(answers)


@pytest.mark.parametrize("seed", seeds(range(0, 400, 2)))
def test_looking_at_few_candidates_first_changes_nothing(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(widening, "FIRST_SLACK", 2)
    monkeypatch.setattr(widening, "WIDER", 2)
    small = random_problem(seed)
    answers = every_answer(small)
    for solver, expected in (
        (BestFirstSolver(), answers),
        (BestFirstSolver(distinct=True), first_of_each_dressing(answers)),
        (BestFirstSolver(different=True), first_of_each_change(answers)),
    ):
        found = small.problem(solver).getSolutions()
        assert [tuple(one.values()) for one in found] == [chosen for _, chosen in expected]


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
@pytest.mark.parametrize("many", [0, 20_000])
def test_searching_in_windows_changes_nothing(
    seed: int, many: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("variants.design.search.frontier.MOST_ENTRIES", 3)
    monkeypatch.setattr(windows, "MANY", many)
    monkeypatch.setattr(elimination, "WIDEST_CONTEXT", 1 + seed % 3)
    small = random_problem(seed)
    answers = every_answer(small)
    assert _named(small, list(best_first(small.network()))) == answers
    found = _named(small, list(best_first(small.network(), distinct=True)))
    assert found == first_of_each_dressing(answers)
    found = _named(small, list(best_of_each_change(small.network())))
    assert found == first_of_each_change(answers)


@pytest.mark.parametrize("seed", seeds(range(0, 400, 8)))
def test_forgetting_what_was_worked_out_changes_nothing(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bounds, "MOST_CONTEXTS", 3)
    monkeypatch.setattr(judge, "MOST_JUDGEMENTS", 3)
    small = random_problem(seed)
    assert _named(small, list(best_first(small.network()))) == every_answer(small)


@pytest.mark.parametrize("seed", seeds(range(0, 400, 8)))
def test_what_is_open_is_never_below_the_bound(seed: int) -> None:
    network = random_problem(seed).network()
    for walk in (BestFirst(network), BestFirst(network, distinct=True), EachChange(network)):
        for weight, _chosen in walk:
            assert walk.bound <= weight // network.unit
            assert walk.still_open is None or walk.still_open >= weight // network.unit
