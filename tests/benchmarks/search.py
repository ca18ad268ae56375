"""How fast the search is: ``python -m tests.benchmarks.search``.

For each size of box a fresh process draws dressings and boxes (see `generator`), builds the
problems and takes the 20 best dressings with proof. Printed are medians over the instances, the
slowest, peak memory of the process, and what general solvers need for the same answers, in the same
run; where they differ in an answer, the run stops. Times are of the processor, in milliseconds.
"""

from __future__ import annotations

import argparse
import gc
import json
import resource
import subprocess
import sys
from dataclasses import asdict, dataclass, field
from itertools import islice
from math import log
from statistics import median
from time import perf_counter, process_time

from tests.benchmarks.generator import random_box, random_dressing
from variants.problem import DesignProblem, Request, build_problem
from variants.rulebook import Rulebook, load_rulebook
from variants.search import Ended, compile_network, search

#: Sizes of box, how many instances of each, and how many answers are asked of CP-SAT.
SIZES = {
    100: (60, 20),
    300: (60, 20),
    1_000: (40, 20),
    3_000: (15, 3),
    10_000: (8, 3),
    100_000: (2, 0),
}
BEST = 20
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
    different: list[float] = field(default_factory=list)
    limited: list[float] = field(default_factory=list)
    ratios_1: list[float] = field(default_factory=list)
    ratios_2: list[float] = field(default_factory=list)
    enumerated: str = ""
    none: int = 0
    memory_mb: float = 0.0


def _timed(design: DesignProblem, different: bool = False) -> tuple[float, list[int], Ended]:
    gc.collect()
    begun = process_time()
    result = search(design, BEST, different)
    spent = 1000 * (process_time() - begun)
    return spent, [variant.departure for variant in result.variants], result.ended


def measure(rulebook: Rulebook, size: int, instances: int, answers: int) -> Measured:
    """Measure instances of one size; the first few are given to CP-SAT as well."""
    measured = Measured(size)
    to_compare: list[tuple[DesignProblem, list[int], float]] = []
    for seed in range(instances):
        dressing, box = random_dressing(rulebook, seed), random_box(rulebook, size, seed)
        begun = process_time()
        design = build_problem(Request(dressing, box), rulebook)
        measured.build.append(1000 * (process_time() - begun))
        spent, departures, ended = _timed(design)
        measured.search.append(spent)
        measured.none += ended is Ended.NONE_EXISTS
        measured.different.append(_timed(design, different=True)[0])
        limited = build_problem(
            Request(dressing, box, max_changes=len(dressing.parts) - 2), rulebook
        )
        measured.limited.append(_timed(limited)[0])
        measured.memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        if departures and answers and len(to_compare) < COMPARED:
            to_compare.append((design, departures, spent))
    for design, departures, spent in to_compare:
        _compare(design, departures, spent, answers, measured)
    return measured


def _compare(
    design: DesignProblem, departures: list[int], spent: float, answers: int, measured: Measured
) -> None:
    """Run CP-SAT on an instance with one worker and two, and check its answers."""
    from tests.benchmarks.general_solvers import enumerated_best, integer_best

    scoped = [(constraint, constraint.parts) for constraint in design.constraints]
    for workers, ratios in ((1, measured.ratios_1), (2, measured.ratios_2)):
        network = compile_network(design.domains, scoped)
        begun = perf_counter()
        found = list(islice(integer_best(network, workers, begun + PATIENCE_S), answers))
        taken = 1000 * (perf_counter() - begun)
        if found != departures[: len(found)]:
            sys.exit(f"CP-SAT differs: {found} and not {departures[: len(found)]}")
        if found:
            # Answers not asked for would have taken at least as long each.
            ratios.append(taken * len(departures) / len(found) / spent)
    if measured.size == min(SIZES) and not measured.enumerated:
        begun = perf_counter()
        listed = enumerated_best(design, BEST, begun + ENUMERATION_S)
        taken = perf_counter() - begun
        if listed is not None and listed != departures:
            sys.exit(f"the library's solver differs: {listed} and not {departures}")
        measured.enumerated = f"ends in {taken:.1f} s" if listed else f"no end in {taken:.0f} s"


def _in_a_fresh_process(size: int, instances: int, answers: int) -> Measured:
    command = [sys.executable, "-m", "tests.benchmarks.search", "--one"]
    done = subprocess.run(
        [*command, str(size), str(instances), str(answers)], capture_output=True, text=True
    )
    if done.returncode:
        sys.exit(done.stderr)
    return Measured(**json.loads(done.stdout))


HEADER = (
    f"{'items':>7} {'build':>8} {'search':>8} {'slowest':>8} {'different':>9} {'limited':>8}"
    f" {'CP-SAT 1':>9} {'CP-SAT 2':>9} {'MB':>5}  none"
)


def _line(measured: Measured) -> str:
    ratios = [
        f"{median(ratios):>8.0f}×" if ratios else f"{'-':>9}"
        for ratios in (measured.ratios_1, measured.ratios_2)
    ]
    return (
        f"{measured.size:>7} {median(measured.build):>8.1f} {median(measured.search):>8.1f}"
        f" {max(measured.search):>8.1f} {median(measured.different):>9.1f}"
        f" {median(measured.limited):>8.1f} {ratios[0]} {ratios[1]} {measured.memory_mb:>5.0f}"
        f"  {measured.none}/{len(measured.search)}"
    )


def _growth(one: Measured, other: Measured, what: str) -> float:
    """Return the exponent with which a median grows between two sizes."""
    here, there = median(getattr(one, what)), median(getattr(other, what))
    return log(there / here) / log(other.size / one.size)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description="Measure the search.")
    parser.add_argument("--sizes", help="sizes of box, parted by commas; all by default")
    parser.add_argument("--share", type=float, default=1.0, help="share of the usual instances")
    parser.add_argument("--one", nargs=3, type=int, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.one:
        gc.freeze()
        print(json.dumps(asdict(measure(load_rulebook(), *options.one))))
        return
    sizes = [int(size) for size in options.sizes.split(",")] if options.sizes else list(SIZES)
    print(HEADER)
    rows: list[Measured] = []
    for size in sizes:
        instances, answers = SIZES[size]
        rows.append(_in_a_fresh_process(size, max(1, round(instances * options.share)), answers))
        print(_line(rows[-1]), flush=True)
        if rows[-1].enumerated:
            print(f"        the library's own solver, enumerating: {rows[-1].enumerated}")
    large = [row for row in rows if row.size >= 1_000]
    if len(large) > 1:
        exponents = (_growth(large[0], large[-1], what) for what in ("build", "search"))
        print(
            "growth from {} items: build n^{:.2f}, search n^{:.2f}".format(
                large[0].size, *exponents
            )
        )


if __name__ == "__main__":
    main()
