"""The Pareto front is that of a look at every choice, on random problems of many shapes."""

from __future__ import annotations

import random

import pytest

from tests.breadth import seeds
from tests.design.search.oracles import every_answer
from tests.design.search.problems import SmallProblem, random_problem
from variants.design import TimeUpError, Watch
from variants.design.search import ParetoPoint, pareto_front
from variants.model import Candidate

ALL = 10**6


def second_costs(small: SmallProblem, seed: int) -> dict[Candidate, int]:
    """Draw a second cost for each candidate, few values, so that many choices tie."""
    chance = random.Random(seed)
    return {
        one: chance.choice((0, 0, 5, 10, 17, 40, 90))
        for domain in small.domains.values()
        for one in domain
    }


def brute_front(
    small: SmallProblem, second: dict[Candidate, int], within: int
) -> list[tuple[int, int]]:
    """Return the costs of the front by looking at every choice against every other."""
    costs = {
        (total, sum(second[one] for one in chosen))
        for total, chosen in every_answer(small)
        if total <= within
    }
    return sorted(
        here
        for here in costs
        if not any(other != here and other[0] <= here[0] and other[1] <= here[1] for other in costs)
    )


def costs(points: list[ParetoPoint]) -> list[tuple[int, int]]:
    return [(one.first, one.second) for one in points]


@pytest.mark.parametrize("seed", seeds(range(300)))
def test_the_front_is_that_of_a_look_at_every_choice(seed: int) -> None:
    small = random_problem(seed)
    second = second_costs(small, seed)
    within = ALL if seed % 3 else random.Random(seed).randrange(20, 200)
    found = pareto_front(small.domains, small.constraints, second.__getitem__, within)
    assert costs(found) == brute_front(small, second, within)


@pytest.mark.parametrize("seed", seeds(range(40)))
def test_every_answer_costs_what_it_says_and_keeps_the_constraints(seed: int) -> None:
    small = random_problem(seed)
    second = second_costs(small, seed)
    for point in pareto_front(small.domains, small.constraints, second.__getitem__, ALL):
        total = sum(one.cost for one in point.chosen.values())
        for constraint in small.constraints:
            beside = [point.chosen[part] for part in constraint.parts]
            assert constraint.allows(beside)
            total += constraint.cost(beside)
        assert total == point.first
        assert sum(second[one] for one in point.chosen.values()) == point.second


@pytest.mark.parametrize("seed", seeds(range(40)))
def test_the_order_of_candidates_and_constraints_changes_nothing(seed: int) -> None:
    small = random_problem(seed)
    second = second_costs(small, seed)
    chance = random.Random(seed)
    shuffled = {part: chance.sample(one, len(one)) for part, one in small.domains.items()}
    mixed = chance.sample(list(small.constraints), len(small.constraints))
    one = pareto_front(small.domains, small.constraints, second.__getitem__, ALL)
    other = pareto_front(shuffled, mixed, second.__getitem__, ALL)
    assert costs(one) == costs(other)


def test_a_problem_without_an_answer_has_an_empty_front() -> None:
    small = random_problem(1)
    assert pareto_front({**small.domains, "none": []}, small.constraints, lambda _: 0, ALL) == []
    assert pareto_front(small.domains, small.constraints, lambda _: 0, -1) == []


def test_a_time_limit_ends_it() -> None:
    class Over(Watch):
        def look(self) -> None:
            raise TimeUpError

    small = random_problem(2)
    with pytest.raises(TimeUpError):
        pareto_front(small.domains, small.constraints, lambda _: 0, ALL, Over())
