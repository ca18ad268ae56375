"""How long a command takes from start to finish, against a bare Python in the same run.

``python -m tests.benchmarks.start`` prints the median of several runs of each command, with bare
Python's own time taken off, and its ratio to bare Python. Run by hand; nothing is asserted.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RUNS = 9
BOX = "examples/box.csv"
DUN = "examples/dressings/ferrymans-dun.toml"
COMMANDS = {
    "flykin --version": ["--version"],
    "flykin --help": ["--help"],
    "flykin propose (example box)": ["propose", DUN, "--box", BOX],
    "flykin propose --needed": ["propose", DUN, "--box", BOX, "--needed"],
    "flykin propose --tree": ["propose", DUN, "--box", BOX, "--tree"],
    "flykin instead": ["instead", "otter fur", "--part", "body", "--style", "dry upright"],
    "flykin read": ["read", "examples/plain/weir-keeper.txt"],
}


def median_seconds(words: list[str]) -> float:
    """Return the median wall time of several runs of a command."""
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run(
            words,
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=False,
        )
        took.append(time.perf_counter() - began)
    return statistics.median(took)


def main() -> None:
    """Print the table."""
    bare = median_seconds([sys.executable, "-c", "pass"])
    print(f"bare Python: {bare * 1000:.0f} ms; medians of {RUNS} runs\n")
    print(f"{'command':32} {'beyond bare':>12} {'ratio':>7}")
    for name, words in COMMANDS.items():
        took = median_seconds([sys.executable, "-m", "variants", *words])
        print(f"{name:32} {(took - bare) * 1000:9.0f} ms {took / bare:7.1f}")


if __name__ == "__main__":
    main()
