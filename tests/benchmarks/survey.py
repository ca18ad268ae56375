"""How long a survey takes: ``python -m tests.benchmarks.survey``.

The dressings of the 1940 handbook against a random box of a thousand items, here and on two
processes. Times are of the clock, in seconds; the ratio is of one run. Processor seconds are told
beside them: on a busy machine, what two processes could gain is to be seen from those.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from resource import RUSAGE_CHILDREN, getrusage
from time import perf_counter, process_time

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
    spent = getrusage(RUSAGE_CHILDREN)
    workers = spent.ru_utime + spent.ru_stime
    begun, worked = perf_counter(), process_time()
    one = survey(book, boxes, rulebook)
    alone, own = perf_counter() - begun, process_time() - worked
    assert one.outlooks == two.outlooks
    print(f"{len(book)} dressings, {ITEMS} items: {_standings(one)}")
    print(f"one process {alone:.2f} s, two {with_two:.2f} s: {alone / with_two:.2f} times as fast")
    print(f"processor: one {own:.2f} s, each of two {workers / 2:.2f} s: {own / workers * 2:.2f}")


def _standings(found: Survey) -> str:
    return ", ".join(
        f"{sum(one.standing is standing for one in found.outlooks)} {standing.value}"
        for standing in Standing
    )


if __name__ == "__main__":
    main()
