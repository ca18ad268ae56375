"""How long a survey takes: ``python -m tests.benchmarks.survey``.

The dressings of the 1940 handbook against a random box of a thousand items, here and on two
processes. Times are of the clock, in seconds; the ratio is of one run.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from time import perf_counter

from tests.benchmarks.generator import random_box
from tests.corpus.measure import readings
from variants.rulebook import load_rulebook
from variants.survey import Standing, Survey, survey

ITEMS = 1_000


def main() -> None:
    """Print the times."""
    rulebook = load_rulebook()
    book = [choice for reading in readings() for choice in list(reading.choices())[:1]]
    boxes = [("random", random_box(rulebook, ITEMS, 1))]
    # Two processes first: nothing is known to this one yet that they would have to find out.
    begun = perf_counter()
    with ProcessPoolExecutor(2) as pool:
        two = survey(book, boxes, rulebook, executor=pool)
    with_two = perf_counter() - begun
    begun = perf_counter()
    one = survey(book, boxes, rulebook)
    alone = perf_counter() - begun
    assert one.outlooks == two.outlooks
    print(f"{len(book)} dressings, {ITEMS} items: {_standings(one)}")
    print(f"one process {alone:.2f} s, two {with_two:.2f} s: {alone / with_two:.2f} times as fast")


def _standings(found: Survey) -> str:
    return ", ".join(
        f"{sum(one.standing is standing for one in found.outlooks)} {standing.value}"
        for standing in Standing
    )


if __name__ == "__main__":
    main()
