"""How long a fly takes to draw, and how large a page gets: ``python -m tests bench pictures``.

Times are of the processor, in milliseconds, medians of several rounds; beside each, how many times
as long as laying the fly out without drawing it. The page is a plate of forty variants.
"""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import process_time

from tests.pictures.flies import STYLES, styled
from tests.real import EXAMPLES, example, example_box, rulebook
from variants.design import Request, build_problem
from variants.design.search import search
from variants.geometry import fly_geometry, load_layout
from variants.model import Box
from variants.pictures import as_png, draw_fly, plate

ROUNDS, FLIES = 7, 40
GOAL_MS, GOAL_BYTES = 50.0, 2_000_000


def _took(work: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        begun = process_time()
        work()
        times.append(1000 * (process_time() - begun))
    return median(times)


def print_times() -> None:
    """Print the times and the sizes."""
    layout = load_layout()
    flies = {style: styled(style, 14) for style in STYLES}
    flies |= {path.stem: example(path.stem) for path in sorted(EXAMPLES.glob("dressings/*.toml"))}
    slowest = 0.0
    for name, dressing in flies.items():
        design = build_problem(Request(dressing, Box(())), rulebook())
        laid = _took(lambda design=design: fly_geometry(design, layout))  # type: ignore[misc]
        took = _took(lambda design=design: draw_fly(design, layout))  # type: ignore[misc]
        size = len(draw_fly(design, layout).svg.encode())
        slowest = max(slowest, took)
        print(f"{name:20} {took:6.1f} ms {took / laid:5.1f}× {size / 1000:6.1f} kB")
    print(f"slowest {slowest:.1f} ms, goal {GOAL_MS:.0f} ms")
    for name in ("packhorse-badger", "long-acre-olive"):
        design = build_problem(Request(example(name), example_box()), rulebook())
        found = search(design, FLIES).variants
        pictures = [draw_fly(design, layout, one, captioned=False) for one in found]
        sheet = plate(pictures, [[""]] * len(pictures), columns=5)
        size = len(sheet.svg.encode())
        print(f"{len(found)} variants of {name}: {size / 1e6:.2f} MB, goal {GOAL_BYTES / 1e6:.0f}")
    took = _took(lambda: as_png(pictures[0]))
    print(f"one of them as PNG {took:.0f} ms")
