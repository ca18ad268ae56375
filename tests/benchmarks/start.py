"""How long starting takes: ``python -m tests.benchmarks.start``.

Each command is run in a fresh process; printed are medians in milliseconds, and how many times as
long as a bare python that is. ``-X importtime`` tells which imports weigh most.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).resolve().parents[2]
RUNS = 9
FLYKIN = ["-m", "variants"]
COMMANDS = {
    "bare python": ["-c", "pass"],
    "import variants": ["-c", "import variants"],
    "import variants.search": ["-c", "import variants.search"],
    "flykin --version": [*FLYKIN, "--version"],
    "flykin --help": [*FLYKIN, "--help"],
    "flykin propose --nonsense": [*FLYKIN, "propose", "--nonsense"],
    "flykin propose, example box": [
        *FLYKIN,
        "propose",
        str(ROOT / "examples" / "dressings" / "ferrymans-dun.toml"),
        "--box",
        str(ROOT / "examples" / "box.csv"),
    ],
}
HEAVIEST = 12
_IMPORT = re.compile(r"import time:\s+(\d+) \|\s+(\d+) \|\s+(\S+)")


def _run(arguments: list[str]) -> float:
    begun = perf_counter()
    subprocess.run([sys.executable, *arguments], capture_output=True, cwd=ROOT)
    return 1000 * (perf_counter() - begun)


def _heaviest(arguments: list[str]) -> list[tuple[float, str]]:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", *arguments], capture_output=True, text=True, cwd=ROOT
    )
    own = [(int(match[1]) / 1000, match[3]) for match in _IMPORT.finditer(done.stderr)]
    return sorted(own, reverse=True)[:HEAVIEST]


def main() -> None:
    """Print the table, and the modules of a proposal that take longest to import."""
    bare = 0.0
    for name, arguments in COMMANDS.items():
        taken = median(_run(arguments) for _ in range(RUNS))
        bare = bare or taken
        print(f"{name:32} {taken:7.0f} ms {taken / bare:6.1f}×  {taken - bare:+7.0f} ms")
    print("\nmodules of a proposal by their own import time")
    for taken, module in _heaviest(COMMANDS["flykin propose, example box"]):
        print(f"{taken:7.1f} ms  {module}")


if __name__ == "__main__":
    main()
