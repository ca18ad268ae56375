"""Random small problems solved in three ways: ``python -m tests.benchmarks.agreement 2000``.

The tests do the same for a few hundred; this counts disagreements over as many as one likes.
"""

from __future__ import annotations

import sys
from itertools import islice

from tests.search.oracles import every_answer, integer_answers
from tests.search.problems import random_problem
from variants.search import best_first

BEST = 10


def main() -> None:
    """Print how many problems were solved, and how often the answers differed."""
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    disagreements = answers = 0
    for seed in range(1_000_000, 1_000_000 + wanted):
        small = random_problem(seed)
        found = [cost for cost, _ in best_first(small.network())]
        by_hand = [cost for cost, _ in every_answer(small)]
        by_integers = [cost for cost, _ in islice(integer_answers(small), BEST)]
        answers += len(found)
        if found != by_hand or found[:BEST] != by_integers:
            disagreements += 1
            print(f"seed {seed}: {found[:BEST]}, {by_hand[:BEST]}, {by_integers}")
    print(f"{wanted} problems, {answers} answers, {disagreements} disagreements")


if __name__ == "__main__":
    main()
