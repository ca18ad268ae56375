"""Random small problems solved in three ways: ``python -m tests bench agreement``.

The tests do the same for a few hundred; this counts disagreements over as many as one likes.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from tests.design.search.oracles import every_answer, integer_answers
from tests.design.search.problems import random_problem
from variants.design.search import solve_network

BEST = 10


@dataclass(frozen=True)
class Agreement:
    """How many problems were solved, how many answers they had, and where these differed."""

    problems: int
    answers: int
    differing: tuple[str, ...]

    def __str__(self) -> str:
        return (
            f"{self.problems} problems, {self.answers} answers, {len(self.differing)} disagreements"
        )


def compare(wanted: int) -> Agreement:
    """Solve so many problems in all three ways."""
    answers, differing = 0, []
    for seed in range(1_000_000, 1_000_000 + wanted):
        small = random_problem(seed)
        found = [cost for cost, _ in solve_network(small.network())]
        by_hand = [cost for cost, _ in every_answer(small)]
        by_integers = [cost for cost, _ in islice(integer_answers(small), BEST)]
        answers += len(found)
        if found != by_hand or found[:BEST] != by_integers:
            differing.append(f"seed {seed}: {found[:BEST]}, {by_hand[:BEST]}, {by_integers}")
    return Agreement(wanted, answers, tuple(differing))


def print_agreement(problems: int) -> None:
    """Print what was compared, and every problem whose answers differed."""
    agreement = compare(problems)
    print("\n".join([*agreement.differing, str(agreement)]))
