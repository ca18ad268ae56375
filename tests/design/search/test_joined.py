"""Groups of parts that nothing ties together are searched by themselves, with the same answers."""

from __future__ import annotations

from itertools import islice

import pytest

from tests.breadth import seeds
from tests.design.search.oracles import every_answer, first_of_each_dressing
from tests.design.search.problems import SmallProblem, loose_problem, random_problem
from variants.design import TimeUpError, Watch
from variants.design.search import BestFirst, Network
from variants.design.search.joined import Joined, groups_of, walk

SEEDS = range(200)


def _joined(network: Network, **more: object) -> Joined:
    return Joined(network, groups_of(network), **more)  # type: ignore[arg-type]


def _named(small: SmallProblem, network: Network, answers: object) -> list[object]:
    return [
        (weight // network.unit, tuple(network.domains[at][one] for at, one in enumerate(chosen)))
        for weight, chosen in answers  # type: ignore[attr-defined]
    ]


def test_loose_problems_are_searched_in_groups() -> None:
    walks = [walk(loose_problem(seed).network()) for seed in SEEDS]
    assert sum(isinstance(one, Joined) for one in walks) > 0.9 * len(SEEDS)


def _check_by_brute_force(seed: int) -> None:
    small = loose_problem(seed)
    network, answers = small.network(), every_answer(small)
    assert _named(small, network, _joined(network)) == answers
    found = _named(small, network, _joined(network, distinct=True))
    assert found == first_of_each_dressing(answers)


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_joined_answers_come_in_the_order_of_brute_force(seed: int) -> None:
    _check_by_brute_force(seed)


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_joined_answers_go_on_in_windows_where_memory_is_short(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("variants.design.search.frontier.MOST_ENTRIES", seed % 4)
    _check_by_brute_force(seed)


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_a_horizon_parts_the_answers_and_more_lie_beyond(seed: int) -> None:
    network = loose_problem(seed).network()
    answers = list(BestFirst(network, distinct=True))
    if not answers:
        assert list(_joined(network, distinct=True)) == []
        return
    horizon = answers[len(answers) // 2][0] // network.unit
    search = _joined(network, distinct=True, horizon=horizon)
    within = [one for one in answers if one[0] < horizon * network.unit]
    assert list(search) == within
    assert search.still_open is not None
    assert horizon <= search.still_open <= answers[len(within)][0] // network.unit
    assert list(search.look_beyond(10_000)) == answers[len(within) :]


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_steps_beyond_the_horizon_are_counted(seed: int) -> None:
    network = loose_problem(seed).network()
    answers = list(BestFirst(network))
    search = _joined(network, horizon=0)
    assert list(search) == []
    beyond = list(search.look_beyond(seed % 7))
    assert beyond == answers[: len(beyond)]
    assert search.steps <= seed % 7


class _Stops(Watch):
    """Breaks in after so many looks."""

    def __init__(self, looks: int) -> None:
        super().__init__()
        self.left: float = looks

    def look(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise TimeUpError


@pytest.mark.parametrize("seed", seeds(SEEDS))
def test_a_search_that_is_stopped_still_tells_valid_answers_once(seed: int) -> None:
    network = loose_problem(seed).network()
    answers = list(BestFirst(network, distinct=True))
    watch = _Stops(seed % 23)
    search = _joined(network, distinct=True, watch=watch)
    found = []
    try:
        for answer in search:
            found.append(answer)
    except TimeUpError:
        assert search.floor is None or all(
            search.floor <= weight for weight, _ in answers[len(found) :]
        )
        watch.left = float("inf")
        rest = list(search.leftovers())
        assert bool(rest) is (len(found) < len(answers))
        assert len({chosen for _, chosen in rest}) == len(rest)
        weights = {chosen: weight for weight, chosen in BestFirst(network)}
        assert all(weights[chosen] == weight for weight, chosen in rest)
        assert not {chosen for _, chosen in rest} & {chosen for _, chosen in found}
    assert found == answers[: len(found)]


@pytest.mark.parametrize("seed", seeds(range(0, 400, 5)))
def test_what_is_open_is_never_below_the_bound(seed: int) -> None:
    for network in (loose_problem(seed).network(), random_problem(seed).network()):
        search = walk(network, distinct=True)
        for weight, _chosen in islice(search, 60):
            assert search.bound <= weight // network.unit
            assert search.still_open is None or search.still_open >= weight // network.unit
