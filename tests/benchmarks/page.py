"""How soon the page shows the first variant: ``python -m tests bench page``.

A box of so many items and a book of drawn dressings are served in this process, without a socket
between. For each dressing the page is asked afresh, then changed: a part missing, another water.
Measured is the time of the processor from the question to the page, and from there to the picture
of its first variant; printed are medians and the slowest. A second line gives the same as a share
of what search alone takes for as many variants, so that runs on other machines compare.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import process_time

from starlette.testclient import TestClient

from tests.benchmarks.generator import random_dressing
from tests.benchmarks.written import write_box_and_book
from tests.web.pages import visitor
from variants.design import Request, build_problem
from variants.design.search import search
from variants.rulebook import load_rulebook

SIZES, DRESSINGS, SHOWN = (195, 1_000, 3_000), 12, 6
BOUND_MS = 300


def _ms(work: Callable[[], object]) -> float:
    begun = process_time()
    work()
    return 1000 * (process_time() - begun)


def _ask(client: TestClient, link: str) -> tuple[float, float]:
    """Return how long the page takes, and the picture of its first variant."""
    page = _ms(lambda: client.get(link))
    picture = link.replace("/design", "/picture.svg") + "&n=1"
    return page, page + _ms(lambda: client.get(picture))


def measure(size: int) -> None:
    """Measure one size of box and print it."""
    rulebook = load_rulebook()
    told: dict[str, list[tuple[float, float]]] = {"asked": [], "missing": [], "water": []}
    alone: list[float] = []
    with TemporaryDirectory() as name:
        box, book = write_box_and_book(Path(name), rulebook, size, DRESSINGS)
        client = visitor(box, [book])
        client.get("/")
        held = client.app.state.house.bench.held.box  # type: ignore[attr-defined]
        for seed in range(DRESSINGS):
            link = f"/design?dressing=fly-{seed}"
            dressing = random_dressing(rulebook, seed)
            told["asked"].append(_ask(client, link))
            part = dressing.parts[-1].id
            told["missing"].append(_ask(client, f"{link}&missing={part}"))
            told["water"].append(_ask(client, f"{link}&water=fast"))
            request = Request(dressing, held, water="slow")
            alone.append(_ms(lambda: search(build_problem(request, rulebook), SHOWN)))  # noqa: B023
    for change, times in told.items():
        pages, firsts = ([one[place] for one in times] for place in (0, 1))
        share = median(pages) / median(alone)
        late = sum(one > BOUND_MS for one in firsts)
        print(
            f"{size:6}  {change:8}  {median(pages):6.0f}  {median(firsts):6.0f}"
            f"  {max(firsts):6.0f}  {late:4} of {len(firsts)}  {share:6.1f}"
        )


def print_times(sizes: Sequence[int]) -> None:
    """Measure every size."""
    print(" items  change      page   first  slowest  over 300 ms  pages/search")
    for size in sizes or SIZES:
        measure(size)
