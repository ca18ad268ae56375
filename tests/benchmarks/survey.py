"""How long a survey takes: ``python -m tests bench survey``.

The dressings of the 1940 handbook against one and four random boxes of a thousand items, here and
on two processes. Times are of the clock, in seconds; the ratio is of one run. Processor seconds are
told beside them: on a busy machine, what two processes could gain is to be seen from those.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from resource import RUSAGE_CHILDREN, getrusage
from time import perf_counter, process_time

from tests.benchmarks.generator import random_box
from tests.corpus.measure import readings
from variants.rulebook import load_rulebook
from variants.survey import BoxStanding, Survey, survey

ITEMS, MANY = 1_000, 4


@dataclass(frozen=True)
class Surveyed:
    """What a survey took, in seconds: of the clock here and on two processes, and of processors.

    Attributes
    ----------
    dressings : int
    found : Survey
    alone_s, with_two_s : float
    own_cpu_s, each_cpu_s : float
        Of the processor: here, and in each of two processes.
    """

    dressings: int
    found: Survey
    alone_s: float
    with_two_s: float
    own_cpu_s: float
    each_cpu_s: float

    def __str__(self) -> str:
        return (
            f"{self.dressings} dressings, boxes of {ITEMS} items: {_standings(self.found)}\n"
            f"one process {self.alone_s:.2f} s, two {self.with_two_s:.2f} s:"
            f" {self.alone_s / self.with_two_s:.2f} times as fast\n"
            f"processor: one {self.own_cpu_s:.2f} s, each of two {self.each_cpu_s:.2f} s:"
            f" {self.own_cpu_s / self.each_cpu_s:.2f}"
        )


def measure(count: int = 1) -> Surveyed:
    """Run the survey of so many boxes here and on two processes; both find the same."""
    rulebook = load_rulebook()
    book = [one.dressing for one in readings() if one.dressing is not None]
    boxes = [(f"random {seed}", random_box(rulebook, ITEMS, seed)) for seed in range(1, count + 1)]
    # Two processes first: nothing is known to this one yet that they would have to find out.
    before, begun = _children_s(), perf_counter()
    with ProcessPoolExecutor(2) as pool:
        two = survey(book, boxes, rulebook, executor=pool)
    with_two, workers = perf_counter() - begun, _children_s() - before
    begun, worked = perf_counter(), process_time()
    one = survey(book, boxes, rulebook)
    alone, own = perf_counter() - begun, process_time() - worked
    assert one.outlooks == two.outlooks
    return Surveyed(len(book), one, alone, with_two, own, workers / 2)


def _children_s() -> float:
    spent = getrusage(RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def _standings(found: Survey) -> str:
    return ", ".join(
        f"{sum(one.standing is standing for one in found.outlooks)} {standing.value}"
        for standing in BoxStanding
    )


def print_times() -> None:
    """Print what a survey of one box takes, and one of several."""
    # What it takes to start a process weighs less, the more there is to do.
    print(measure(), measure(MANY), sep="\n\n")
