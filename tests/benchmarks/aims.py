"""What is aimed at, and what is measured: ``python -m tests bench all``.

Runs what measures search, start, survey and agreement, each printing its own table, and ends with
the aims side by side with what was measured. ``--share 0.1`` takes a tenth of the instances. Aims
in milliseconds and seconds are for a machine on which a bare python starts in some 10 ms; ratios
are of one run and hold on any.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import log
from statistics import median

from tests.benchmarks import search, start

#: Milliseconds for the 20 best with proof, by size of box.
SEARCH_MS = {300: 10, 1_000: 20, 10_000: 120, 100_000: 1_500}
SLOWEST, MEMORY_MB = 10, 300
#: How many times as long CP-SAT should take: at any size, and from large boxes on.
AHEAD, FAR_AHEAD = 100, 300
PROPOSE_MS, HELP_MS, SURVEY_S, TWO_PROCESSES = 500, 200, 10, 1.7
PROBLEMS = 2_000


@dataclass(frozen=True)
class Aim:
    """One aim: what is to be at most, or at least, so much; and what was measured."""

    what: str
    measured: float
    limit: float
    unit: str = ""
    at_least: bool = False

    @property
    def is_met(self) -> bool:
        """Whether what was measured is within the limit."""
        return self.measured >= self.limit if self.at_least else self.measured <= self.limit

    def __str__(self) -> str:
        bound = f"{'≥' if self.at_least else '≤'} {self.limit:g}{self.unit}"
        met = "met" if self.is_met else "missed"
        return f"{self.what:52} {bound:>10} {self.measured:>9.4g}{self.unit:3} {met}"


def of_search(rows: Iterable[search.Measured]) -> Iterator[Aim]:
    """Yield the aims of the search."""
    for row in rows:
        at = f"{row.size} items"
        middle = median(row.whole)
        if row.size in SEARCH_MS:
            yield Aim(
                f"{at}: 20 best with proof, from the request", middle, SEARCH_MS[row.size], " ms"
            )
        yield Aim(f"{at}: the slowest by the median", max(row.whole) / middle, SLOWEST, "×")
        least = FAR_AHEAD if row.size >= search.LARGE else AHEAD
        if row.ratios_alone:
            alone, whole = median(row.ratios_alone), median(row.ratios_1)
            yield Aim(f"{at}: CP-SAT on the same network", alone, least, "×", at_least=True)
            yield Aim(f"{at}: CP-SAT from the request", whole, least, "×", at_least=True)
        if row.size == max(search.SIZES):
            yield Aim(f"{at}: memory of the process", row.memory_mb, MEMORY_MB, " MB")


def of_growth(rows: Sequence[search.Measured]) -> Iterator[Aim]:
    """Yield the aim of growing no faster than n log n between the large boxes."""
    grown = search.Growth.of(rows)
    if grown is not None:
        one, other = grown.least, grown.largest
        times = other * log(other) / (one * log(one))
        yield Aim(f"{one} to {other} items: how many times as long", grown.times, round(times), "×")


def of_the_rest(share: float) -> Iterator[Aim]:
    """Measure start, survey and agreement, and yield their aims."""
    # Only now: a process started from here is counted the memory that this one has.
    from tests.benchmarks import agreement, survey

    with start.tyers_python() as python:
        taken = start.measure(python)
    print(f"\n{start.table(taken)}")
    yield Aim("propose, 300 items, cold, whole process", taken[start.DRAWN_BOX], PROPOSE_MS, " ms")
    longer = taken[start.HELP] - taken[start.BARE]
    yield Aim("--help, beyond a bare python", longer, HELP_MS, " ms")
    surveyed = survey.measure()
    print(f"\n{surveyed}")
    yield Aim("survey of the handbook, one process", surveyed.alone_s, SURVEY_S, " s")
    faster = surveyed.alone_s / surveyed.with_two_s
    yield Aim("survey, two processes", faster, TWO_PROCESSES, "×", at_least=True)
    agreed = agreement.compare(round(PROBLEMS * share))
    print(f"\n{agreed}")
    yield Aim("answers unlike brute force and CP-SAT", len(agreed.differing), 0)


def print_aims(sizes: Sequence[int], share: float) -> None:
    """Print all tables, and the aims."""
    rows = search.measure_all(sizes or list(search.SIZES), share)
    aims = [*of_search(rows), *of_growth(rows), *of_the_rest(share)]
    print("\n" + "\n".join(map(str, aims)))
