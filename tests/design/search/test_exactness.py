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
from variants.design import TimeUpError, Watch
from variants.design.search import (
    BestFirstSearch,
    BestFirstSolver,
    Network,
    bounds,
    elimination,
    indexed_constraint,
    solve_network,
    widening,
)
from variants.design.search.change_sets import ChangeSetSearch

SEEDS = range(400)
FEW = 12


def _named(small: SmallProblem, answers: list[tuple[int, tuple[int, ...]]]) -> list[Answer]:
    network = small.network()
    return [
        (cost, tuple(network.domains[at][number] for at, number in enumerate(chosen)))
        for cost, chosen in answers
    ]


def _best_of_each_change(network: Network) -> list[tuple[int, tuple[int, ...]]]:
    return [(weight // network.unit, chosen) for weight, chosen in ChangeSetSearch(network)]


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_all_answers_come_in_the_order_of_brute_force(seed: int) -> None:
    small = random_problem(seed)
    assert _named(small, list(solve_network(small.network()))) == every_answer(small)


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_each_dressing_comes_once_at_its_least_departure(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(solve_network(small.network(), distinct=True)))
    assert found == first_of_each_dressing(every_answer(small))


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_the_best_of_each_set_of_changed_parts_comes_in_order(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(_best_of_each_change(small.network())))
    assert found == first_of_each_change(every_answer(small))


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
def test_an_integer_solver_finds_the_same_departures_and_choices(seed: int) -> None:
    small = random_problem(seed)
    found = _named(small, list(solve_network(small.network())))
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
def test_constraints_that_the_bound_leaves_out_change_nothing(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(elimination, "WIDEST_CONTEXT", 1)
    small = random_problem(seed)
    answers = every_answer(small)
    assert _named(small, list(solve_network(small.network()))) == answers
    found = _named(small, list(solve_network(small.network(), distinct=True)))
    assert found == first_of_each_dressing(answers)
    found = _named(small, list(_best_of_each_change(small.network())))
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


@pytest.mark.parametrize("seed", seeds(range(0, 400, 8)))
def test_forgetting_what_was_worked_out_changes_nothing(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bounds, "MOST_CONTEXTS", 3)
    monkeypatch.setattr(indexed_constraint, "MOST_VERDICTS", 3)
    small = random_problem(seed)
    assert _named(small, list(solve_network(small.network()))) == every_answer(small)


@pytest.mark.parametrize("seed", seeds(range(0, 400, 8)))
def test_what_is_open_is_never_below_the_bound(seed: int) -> None:
    network = random_problem(seed).network()
    for search in (
        BestFirstSearch(network),
        BestFirstSearch(network, distinct=True),
        ChangeSetSearch(network),
    ):
        for weight, _chosen in search:
            assert search.bound <= weight // network.unit
            assert search.least_left is None or search.least_left >= weight // network.unit


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
def test_a_horizon_parts_the_solutions_and_more_lie_beyond(seed: int) -> None:
    network = random_problem(seed).network()
    solutions = list(BestFirstSearch(network, distinct=True))
    if not solutions:
        assert list(BestFirstSearch(network, distinct=True, horizon=0)) == []
        return
    horizon = solutions[len(solutions) // 2][0] // network.unit
    search = BestFirstSearch(network, distinct=True, horizon=horizon)
    within = [one for one in solutions if one[0] < horizon * network.unit]
    assert list(search) == within
    assert search.least_left is not None
    assert horizon <= search.least_left <= solutions[len(within)][0] // network.unit
    few = list(search.look_beyond(seed % 7))
    assert few + list(search.look_beyond(10_000)) == solutions[len(within) :]


class _Stops(Watch):
    """Breaks in after so many looks."""

    def __init__(self, looks: int) -> None:
        super().__init__()
        self.left: float = looks

    def look(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise TimeUpError


@pytest.mark.parametrize("seed", seeds(range(0, 400, 4)))
def test_a_search_that_is_stopped_still_tells_valid_solutions_once(seed: int) -> None:
    network = random_problem(seed).network()
    solutions = list(BestFirstSearch(network, distinct=True))
    watch = _Stops(seed % 23)
    found: list[tuple[int, tuple[int, ...]]] = []
    search = None
    try:
        search = BestFirstSearch(network, distinct=True, watch=watch)
        found.extend(search)
    except TimeUpError:
        if search is None:  # stopped before there was anything to go on with
            return
        least = search.least_weight
        assert least is None or all(least <= weight for weight, _ in solutions[len(found) :])
        watch.left = float("inf")
        rest = list(search.leftovers())
        assert bool(rest) is (len(found) < len(solutions))
        assert len({chosen for _, chosen in rest}) == len(rest)
        weights = {chosen: weight for weight, chosen in BestFirstSearch(network)}
        assert all(weights[chosen] == weight for weight, chosen in rest)
        assert not {chosen for _, chosen in rest} & {chosen for _, chosen in found}
    assert found == solutions[: len(found)]
