"""How long starting takes: ``python -m tests.benchmarks.start``.

Each command is run in a fresh process; printed are medians of the clock in milliseconds, and how
many times as long as a bare python that is. ``-X importtime`` tells which imports weigh most.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.benchmarks.written import write_box_and_book
from variants.rulebook import load_rulebook

ROOT = Path(__file__).resolve().parents[2]
RUNS = 9
FLYKIN = ["-m", "variants"]
EXAMPLE = ROOT / "examples"
#: Items of the drawn box.
ITEMS = 300
BARE, HELP, EXAMPLE_BOX, DRAWN_BOX = (
    "bare python",
    "flykin --help",
    "flykin propose, example box",
    f"flykin propose, {ITEMS} items",
)
COMMANDS = {
    BARE: ["-c", "pass"],
    "import variants": ["-c", "import variants"],
    "import variants.search": ["-c", "import variants.search"],
    "flykin --version": [*FLYKIN, "--version"],
    HELP: [*FLYKIN, "--help"],
    "flykin propose --nonsense": [*FLYKIN, "propose", "--nonsense"],
    EXAMPLE_BOX: [
        *FLYKIN,
        "propose",
        str(EXAMPLE / "dressings" / "ferrymans-dun.toml"),
        "--box",
        str(EXAMPLE / "box.csv"),
    ],
}
HEAVIEST = 12
_IMPORT = re.compile(r"import time:\s+(\d+) \|\s+(\d+) \|\s+(\S+)")


def _run(arguments: list[str]) -> float:
    begun = perf_counter()
    done = subprocess.run([sys.executable, *arguments], capture_output=True, cwd=ROOT)
    taken = 1000 * (perf_counter() - begun)
    if b"Traceback" in done.stderr:
        sys.exit(done.stderr.decode())
    return taken


def measure() -> dict[str, float]:
    """Return what each command takes, and a proposal from a drawn box for a drawn dressing."""
    taken = {name: median(_run(one) for _ in range(RUNS)) for name, one in COMMANDS.items()}
    with TemporaryDirectory() as folder:
        box, book = write_box_and_book(Path(folder), load_rulebook(), ITEMS, RUNS)
        taken[DRAWN_BOX] = median(
            _run([*FLYKIN, "propose", str(base), "--box", str(box)])
            for base in sorted(book.iterdir())
        )
    return taken


def table(taken: Mapping[str, float]) -> str:
    """Return the times with what they are of a bare python's."""
    bare = taken[BARE]
    return "\n".join(
        f"{name:32} {one:7.0f} ms {one / bare:6.1f}×  {one - bare:+7.0f} ms"
        for name, one in taken.items()
    )


def _heaviest(arguments: list[str]) -> list[tuple[float, str]]:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", *arguments], capture_output=True, text=True, cwd=ROOT
    )
    own = [(int(match[1]) / 1000, match[3]) for match in _IMPORT.finditer(done.stderr)]
    return sorted(own, reverse=True)[:HEAVIEST]


def main() -> None:
    """Print the table, and the modules of a proposal that take longest to import."""
    print(table(measure()))
    print("\nmodules of a proposal by their own import time")
    for taken, module in _heaviest(COMMANDS[EXAMPLE_BOX]):
        print(f"{taken:7.1f} ms  {module}")


if __name__ == "__main__":
    main()
