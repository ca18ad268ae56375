"""Ctrl-C at random moments of every long command: `python -m tests harm commands`.

Each command is run once to its end; then again and again, and a real SIGINT is sent to its whole
group of processes, as a terminal does, at a random moment of that time. Each run has to end with
the whole answer and its exit code, with a part of the answer that says so, or with 130; and never
with a traceback. By hand, for it takes long; the suite sends a few.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep

from tests.real import EXAMPLES, ROOT

DUN = str(EXAMPLES / "dressings" / "ferrymans-dun.toml")
BOX = ("--box", str(EXAMPLES / "box.csv"))
BOOK = str(EXAMPLES / "dressings")
#: The long commands, each with words that keep it busy; ``{out}`` is a file that may be written.
COMMANDS: dict[str, tuple[str, ...]] = {
    "propose": ("propose", DUN, *BOX, "--best", "20"),
    "propose needed": ("propose", DUN, *BOX, "--best", "5"),
    "propose json": ("propose", DUN, *BOX, "--best", "9", "--json", "--different"),
    "tieable": ("tieable", BOOK, *BOX),
    "tieable workers": ("tieable", BOOK, *BOX, "--workers", "2"),
    "buy": ("buy", BOOK, *BOX, "--sets", "2"),
    "batch": ("batch", str(EXAMPLES / "batch.toml"), *BOX),
    "whynot": ("whynot", DUN, *BOX, "--keep", "body"),
    "region": ("region", DUN, *BOX, "--region", str(EXAMPLES / "regions" / "skirl-burn.toml")),
    "draw": ("draw", DUN, *BOX, "--out", "{out}.svg"),
    "graph": ("graph", DUN, *BOX, "--best", "6", "--out", "{out}.svg"),
    "sheet": ("sheet", DUN, *BOX, "--out", "{out}.html"),
    "kin": ("kin", DUN, "--book", BOOK),
    "import": (
        "box", "import", str(EXAMPLES / "lists" / "shed.csv"), "--box", "{out}.csv", "--yes",
        "--leave-out",
    ),
}  # fmt: skip
#: How a part of an answer says that it is one.
SAYS_SO = ("Stopped before", '"ended": "interrupted"', '"complete": false')


@dataclass(frozen=True)
class Ended:
    """How a run ended."""

    code: int
    printed: str
    complained: str


def words_of(name: str, out: Path) -> list[str]:
    """Return the words of a command, its files in a folder of its own."""
    return [word.format(out=out) for word in COMMANDS[name]]


def trouble_with(ended: Ended, whole: Ended) -> str:
    """Return what is wrong with how a stopped run ended; nothing when it is as it should be."""
    if "Traceback" in ended.complained or "Exception ignored" in ended.complained:
        return f"a traceback: {ended.complained[-2000:]}"
    if ended.code == 130 or any(told in " ".join(ended.printed.split()) for told in SAYS_SO):
        return ""
    if (ended.code, ended.printed) == (whole.code, whole.printed):
        return ""
    return f"code {ended.code} and another answer:\n{ended.printed[-2000:]}{ended.complained}"


def run(words: Sequence[str], after_s: float | None = None) -> tuple[Ended, float]:
    """Return how a run ended and how long it took; SIGINT is sent after a while, if asked for."""
    begun = monotonic()
    with subprocess.Popen(
        [sys.executable, "-m", "variants", *words],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as running:
        if after_s is not None:
            sleep(after_s)
            if running.poll() is None:
                os.killpg(running.pid, signal.SIGINT)
        printed, complained = running.communicate(timeout=120)
    return Ended(running.returncode, printed, complained), monotonic() - begun


def is_pythons_own(ended: Ended) -> bool:
    """Tell whether Ctrl-C came before the first line of ours, while Python itself was starting."""
    is_starting = any(told in ended.complained for told in ("runpy", "<frozen site>"))
    before_ours = ended.code == -signal.SIGINT or is_starting
    return before_ours and "/variants/" not in ended.complained and not ended.printed


def send_signals(names: Sequence[str], times: int, seed: int) -> bool:
    """Send the signals, and print what came of them; tell whether every end was a good one."""
    chance = random.Random(seed)
    failures = 0
    for name in names or COMMANDS:
        count: Counter[str] = Counter()
        with tempfile.TemporaryDirectory() as folder:
            whole, taken_s = run(words_of(name, Path(folder) / "whole"))
            for time in range(times):
                out = Path(folder) / "whole"
                for written in Path(folder).glob("*"):
                    written.unlink()
                ended, _ = run(words_of(name, out), chance.uniform(0.0, 1.05 * taken_s))
                wrong = trouble_with(ended, whole)
                if is_pythons_own(ended):
                    count["before our first line"] += 1
                elif wrong:
                    count["WRONG"] += 1
                    failures += 1
                    print(f"{name}, run {time}: {wrong}", flush=True)
                elif ended.code == 130:
                    count["130"] += 1
                else:
                    count["whole" if ended.printed == whole.printed else "part"] += 1
        print(f"{name:16} {taken_s:5.1f} s  {dict(count)}", flush=True)
    return not failures
