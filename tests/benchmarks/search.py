"""How fast the search is: ``python -m tests bench search``.

For each size of box a fresh process draws dressings and boxes (see `generator`), builds the
problems and takes the 20 best dressings with proof. Printed are medians over the instances of both
steps and of the whole, the slowest whole, and peak memory of the process. Times are of the
processor, in milliseconds; the colour library is there when they begin, as what importing it takes
is for `start` to tell.

Then, how many times as long OR-Tools CP-SAT takes for the same answers, in the same run: from the
same request with one worker and with two, candidates and their model made in its time as they are
in ours; and alone, from the same network ready made. Where it differs in an answer, the run stops.
"""

from __future__ import annotations

import gc
import json
import resource
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field, replace
from itertools import islice
from math import log
from statistics import median
from time import perf_counter, process_time

from tests.benchmarks.generator import random_box, random_dressing
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import Ended, Network, compile_network, search, solve_network
from variants.rulebook import Rulebook, load_rulebook

#: Sizes of box, how many instances of each, and how many answers are asked of CP-SAT.
SIZES = {
    100: (200, 20),
    300: (200, 20),
    1_000: (200, 20),
    3_000: (60, 3),
    10_000: (40, 3),
    100_000: (5, 0),
}
BEST = 20
#: From this size on a box counts as large: how times grow is told from here.
LARGE = 1_000
#: Instances on which CP-SAT is run, and seconds it is given for each.
COMPARED, PATIENCE_S = 4, 40.0
#: Seconds that the library's own solver is given on the smallest box.
ENUMERATION_S = 20.0


@dataclass
class Measured:
    """What was measured for one size of box; milliseconds."""

    size: int
    build: list[float] = field(default_factory=list)
    search: list[float] = field(default_factory=list)
    whole: list[float] = field(default_factory=list)
    different: list[float] = field(default_factory=list)
    limited: list[float] = field(default_factory=list)
    ratios_1: list[float] = field(default_factory=list)
    ratios_2: list[float] = field(default_factory=list)
    alone: list[float] = field(default_factory=list)
    ratios_alone: list[float] = field(default_factory=list)
    enumerated: str = ""
    none: int = 0
    memory_mb: float = 0.0


def _timed(design: DesignProblem, different: bool = False) -> tuple[float, list[int], Ended]:
    gc.collect()
    begun = process_time()
    result = search(design, BEST, different)
    spent = 1000 * (process_time() - begun)
    return spent, [variant.departure for variant in result.variants], result.ended


def _request(rulebook: Rulebook, size: int, seed: int) -> Request:
    return Request(random_dressing(rulebook, seed), random_box(rulebook, size, seed))


def measure(rulebook: Rulebook, size: int, instances: int, answers: int) -> Measured:
    """Measure instances of one size; the first few are given to CP-SAT as well."""
    import coloraide  # noqa: F401  (what importing it takes is no part of a search)

    measured = Measured(size)
    to_compare: list[tuple[Request, list[int], float]] = []
    for seed in range(instances):
        request = _request(rulebook, size, seed)
        gc.collect()
        begun = process_time()
        design = build_problem(request, rulebook)
        measured.build.append(1000 * (process_time() - begun))
        spent, departures, ended = _timed(design)
        measured.search.append(spent)
        measured.whole.append(measured.build[-1] + spent)
        measured.none += ended is Ended.NONE_EXISTS
        if departures and answers and len(to_compare) < COMPARED:
            to_compare.append((request, departures, measured.whole[-1]))
        del design
    measured.memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    for seed in range(instances):
        request = _request(rulebook, size, seed)
        design = build_problem(request, rulebook)
        measured.different.append(_timed(design, different=True)[0])
        limit = len(request.base.parts) - 2
        design = build_problem(replace(request, max_changes=limit), rulebook)
        measured.limited.append(_timed(design)[0])
    for request, departures, spent in to_compare:
        _compare(rulebook, request, departures, spent, answers, measured)
    return measured


def _compare(
    rulebook: Rulebook,
    request: Request,
    departures: list[int],
    spent: float,
    answers: int,
    measured: Measured,
) -> None:
    """Run CP-SAT on an instance with one worker and two, and check its answers."""
    from tests.benchmarks.general_solvers import enumerated_best, integer_best

    for workers, ratios in ((1, measured.ratios_1), (2, measured.ratios_2)):
        begun = perf_counter()
        design = build_problem(request, rulebook)
        network = compile_network(design.domains, design.constraints)
        if workers == 1:
            measured.alone.append(_alone(network, len(departures)))
        modelled = perf_counter()
        found = list(islice(integer_best(network, workers, begun + PATIENCE_S), answers))
        taken = 1000 * (perf_counter() - begun)
        if found != departures[: len(found)]:
            sys.exit(f"CP-SAT differs: {found} and not {departures[: len(found)]}")
        if found:
            # Answers that were not asked for would have taken at least as long each.
            ratios.append(taken * len(departures) / len(found) / spent)
            if workers == 1:
                solving = (perf_counter() - modelled) * len(departures) / len(found)
                measured.ratios_alone.append(1000 * solving / measured.alone[-1])
    if measured.size == min(SIZES) and not measured.enumerated:
        begun = perf_counter()
        listed = enumerated_best(design, BEST, begun + ENUMERATION_S)
        taken = perf_counter() - begun
        if listed is not None and listed != departures:
            sys.exit(f"the library's solver differs: {listed} and not {departures}")
        measured.enumerated = f"ends in {taken:.1f} s" if listed else f"no end in {taken:.0f} s"


def _alone(network: Network, answers: int) -> float:
    """Return what our search takes on a network of every candidate, as CP-SAT is handed it."""
    gc.collect()
    begun = perf_counter()
    found = list(islice(solve_network(network, distinct=True), answers))
    assert len(found) == answers
    return 1000 * (perf_counter() - begun)


def _in_a_fresh_process(size: int, instances: int, answers: int) -> Measured:
    command = [sys.executable, "-c", f"from {__name__} import print_one; print_one()"]
    done = subprocess.run(
        [*command, str(size), str(instances), str(answers)], capture_output=True, text=True
    )
    if done.returncode:
        sys.exit(done.stderr)
    return Measured(**json.loads(done.stdout))


HEADER = (
    f"{'items':>7} {'build':>7} {'search':>7} {'whole':>7} {'slowest':>8} {'different':>9}"
    f" {'limited':>8} {'CP-SAT 1':>9} {'CP-SAT 2':>9} {'alone':>7} {'MB':>5}  none"
)


def _line(measured: Measured) -> str:
    ratios = [
        f"{median(ratios):.0f}×" if ratios else "-"
        for ratios in (measured.ratios_1, measured.ratios_2, measured.ratios_alone)
    ]
    return (
        f"{measured.size:>7} {median(measured.build):>7.1f} {median(measured.search):>7.1f}"
        f" {median(measured.whole):>7.1f} {max(measured.whole):>8.1f}"
        f" {median(measured.different):>9.1f}"
        f" {median(measured.limited):>8.1f} {ratios[0]:>9} {ratios[1]:>9} {ratios[2]:>7}"
        f" {measured.memory_mb:>5.0f}"
        f"  {measured.none}/{len(measured.search)}"
    )


def measure_all(sizes: Sequence[int], share: float) -> list[Measured]:
    """Measure each size in a process of its own, printing the table line by line."""
    print(HEADER)
    rows: list[Measured] = []
    for size in sizes:
        instances, answers = SIZES[size]
        rows.append(_in_a_fresh_process(size, max(1, round(instances * share)), answers))
        print(_line(rows[-1]), flush=True)
        if rows[-1].enumerated:
            print(f"        the library's own solver, enumerating: {rows[-1].enumerated}")
    grown = Growth.of(rows)
    if grown is not None:
        print(f"growth from {grown.least} items: n^{grown.exponent:.2f}")
    return rows


@dataclass(frozen=True)
class Growth:
    """How many times as long the largest box takes as the least of the large ones."""

    least: int
    largest: int
    times: float

    @classmethod
    def of(cls, rows: Sequence[Measured]) -> Growth | None:
        """Return the growth over the large boxes; None where there are not two."""
        large = [row for row in rows if row.size >= LARGE]
        if len(large) < 2:
            return None
        one, other = large[0], large[-1]
        return cls(one.size, other.size, median(other.whole) / median(one.whole))

    @property
    def exponent(self) -> float:
        """The power of the size that it is."""
        return log(self.times) / log(self.largest / self.least)


def print_one() -> None:
    """Measure one size, as the words of this process tell it, and print that for the first."""
    size, instances, answers = map(int, sys.argv[1:])
    print(json.dumps(asdict(measure(load_rulebook(), size, instances, answers))))
