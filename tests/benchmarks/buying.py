"""How long it takes to find what to buy, and why not: ``python -m tests bench buying``.

The dressings of the 1940 handbook against a random box of a thousand items: every purchase tried
for all of them, then random dressings that may hardly change asked why not. Times are of the
processor, in seconds, on one core.
"""

from __future__ import annotations

from statistics import median
from time import process_time

from tests.benchmarks.generator import random_box, random_dressing
from tests.corpus.measure import readings
from variants.design import Request, build_problem, stock_of
from variants.design.search import search
from variants.explain import find_all_conflicts, find_repairs
from variants.rulebook import load_rulebook
from variants.survey.purchases import find_purchases

ITEMS = 1_000
#: So many dressings are asked why not.
ASKED = 10


def print_times() -> None:
    """Print the times."""
    book = [one.dressing for one in readings() if one.dressing is not None]
    rulebook = load_rulebook()
    box = random_box(rulebook, ITEMS, 1)
    begun = process_time()
    found = find_purchases(book, box, rulebook)
    took = process_time() - begun
    print(f"buy: {len(book)} dressings, {ITEMS} items, {len(found.single)} gain: {took:.1f} s")
    times = []
    for seed in range(ASKED):
        rulebook = load_rulebook()
        box = random_box(rulebook, ITEMS, seed)
        request = Request(random_dressing(rulebook, seed), box, max_changes=1)
        begun = process_time()
        design = build_problem(request, rulebook, stock_of(box, frozenset()))
        if not search(design, 1).variants:
            find_repairs(design, find_all_conflicts(design))
            times.append(process_time() - begun)
    print(f"whynot: {len(times)} of {ASKED}: {median(times):.2f} s, worst {max(times):.2f} s")
