"""How long starting takes: ``python -m tests bench start``.

Flykin is installed for it as a tyer has it, without what the tests want: pint loads numpy and dask
wherever it finds them. Each command is run in a fresh process; printed are medians of the clock in
milliseconds, and how many times as long as a bare python that is. ``-X importtime`` tells which
imports weigh most.
"""

from __future__ import annotations

import re
import subprocess
import sys
import venv
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from os import environ
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
    "import variants.design.search": ["-c", "import variants.design.search"],
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
#: Nothing of this folder is to be imported.
_PLAIN = {name: value for name, value in environ.items() if name != "PYTHONPATH"}
_IMPORT = re.compile(r"import time:\s+(\d+) \|\s+(\d+) \|\s+(\S+)")


@contextmanager
def tyers_python() -> Iterator[str]:
    """Install Flykin by itself for a while, and give the python that has it."""
    with TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = str(Path(folder) / "bin" / "python")
        subprocess.run([python, "-m", "pip", "install", "-q", str(ROOT)], check=True)
        yield python


def _run(python: str, arguments: list[str]) -> float:
    begun = perf_counter()
    done = subprocess.run([python, *arguments], capture_output=True, env=_PLAIN)
    taken = 1000 * (perf_counter() - begun)
    if b"Traceback" in done.stderr:
        sys.exit(done.stderr.decode())
    return taken


def measure(python: str) -> dict[str, float]:
    """Return what each command takes, and a proposal from a drawn box for a drawn dressing."""
    taken = {name: median(_run(python, one) for _ in range(RUNS)) for name, one in COMMANDS.items()}
    with TemporaryDirectory() as folder:
        box, book = write_box_and_book(Path(folder), load_rulebook(), ITEMS, RUNS)
        taken[DRAWN_BOX] = median(
            _run(python, [*FLYKIN, "propose", str(base), "--box", str(box)])
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


def _heaviest(python: str, arguments: list[str]) -> list[tuple[float, str]]:
    timed = [python, "-X", "importtime", *arguments]
    done = subprocess.run(timed, capture_output=True, text=True, env=_PLAIN)
    own = [(int(match[1]) / 1000, match[3]) for match in _IMPORT.finditer(done.stderr)]
    return sorted(own, reverse=True)[:HEAVIEST]


def print_times() -> None:
    """Print the table, and the modules of a proposal that take longest to import."""
    with tyers_python() as python:
        print(table(measure(python)))
        print("\nmodules of a proposal by their own import time")
        for taken, module in _heaviest(python, COMMANDS[EXAMPLE_BOX]):
            print(f"{taken:7.1f} ms  {module}")
