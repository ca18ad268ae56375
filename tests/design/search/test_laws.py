"""Laws that hold for any problem: what more candidates, fewer constraints and new names do."""

from __future__ import annotations

import random
from itertools import islice

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.design.search.problems import ATTRIBUTES, SmallProblem, candidate, random_problem
from variants.design.search import BestFirstSolver, solve_network

problems = st.integers(0, 10_000).map(random_problem)
laws = settings(max_examples=examples(60), deadline=None, derandomize=True)


def _departures(small: SmallProblem) -> list[int]:
    return [cost for cost, _ in solve_network(small.network())]


def _solutions(small: SmallProblem) -> set[tuple[int, ...]]:
    found = small.problem(BestFirstSolver()).getSolutions()
    return {tuple(id(one[part]) for part in small.domains) for one in found}


def _with_domains(small: SmallProblem, draw: random.Random) -> SmallProblem:
    shuffled = {part: draw.sample(domain, len(domain)) for part, domain in small.domains.items()}
    return SmallProblem(shuffled, small.constraints)


@laws
@given(problems, st.randoms(use_true_random=False))
def test_one_more_candidate_never_makes_the_best_worse(
    small: SmallProblem, draw: random.Random
) -> None:
    part = draw.choice(list(small.domains))
    more = candidate(part, "zz", draw.randint(0, 40), dict.fromkeys(ATTRIBUTES, 1))
    richer = SmallProblem({**small.domains, part: [*small.domains[part], more]}, small.constraints)
    before, after = _departures(small), _departures(richer)
    assert len(after) >= len(before)
    assert all(new <= old for new, old in zip(after, before, strict=False))


@laws
@given(problems, st.randoms(use_true_random=False))
def test_one_constraint_fewer_never_loses_an_answer(
    small: SmallProblem, draw: random.Random
) -> None:
    if not small.constraints:
        return
    dropped = draw.randrange(len(small.constraints))
    kept = (*small.constraints[:dropped], *small.constraints[dropped + 1 :])
    freer = SmallProblem(small.domains, kept)
    assert _solutions(small) <= _solutions(freer)
    best, freest = _departures(small)[:1], _departures(freer)[:1]
    assert not best or freest[0] <= best[0]


@laws
@given(problems, st.randoms(use_true_random=False))
def test_the_order_of_the_domains_changes_nothing(small: SmallProblem, draw: random.Random) -> None:
    for is_distinct in (False, True):
        found = [
            [tuple(id(one) for one in answer.values()) for answer in answers]
            for problem in (small, _with_domains(small, draw))
            for answers in [problem.problem(BestFirstSolver(distinct=is_distinct)).getSolutions()]
        ]
        assert found[0] == found[1]


@laws
@given(problems, st.randoms(use_true_random=False))
def test_the_order_of_parts_and_constraints_changes_no_departure(
    small: SmallProblem, draw: random.Random
) -> None:
    parts = draw.sample(list(small.domains), len(small.domains))
    constraints = tuple(draw.sample(small.constraints, len(small.constraints)))
    other = SmallProblem({part: small.domains[part] for part in parts}, constraints)
    assert _departures(small) == _departures(other)
    assert _solutions(small) == {
        tuple(ids[parts.index(part)] for part in small.domains) for ids in _solutions(other)
    }


@laws
@given(problems, st.randoms(use_true_random=False))
def test_other_keys_change_no_departure(small: SmallProblem, draw: random.Random) -> None:
    renamed = {
        part: [
            one.varied(one.attributes, (f"{number:02}",))
            for number, one in enumerate(draw.sample(domain, len(domain)))
        ]
        for part, domain in small.domains.items()
    }
    assert _departures(small) == _departures(SmallProblem(renamed, small.constraints))


@laws
@given(problems)
def test_two_runs_agree_to_the_byte(small: SmallProblem) -> None:
    first, second = (list(islice(solve_network(small.network()), 50)) for _ in range(2))
    assert repr(first) == repr(second)
