"""Many spoilt inputs by hand: ``python -m tests fuzz readers --tries 100000``.

Every reader gets its share of inputs; what is no clear complaint is written out with its input, so
that it can be tried again: ``python -m tests fuzz readers --reader box --input FILE``.
"""

from __future__ import annotations

import random
import resource
import sys
import time
import warnings
from collections.abc import Sequence
from pathlib import Path

from tests.fuzz.bombs import bombs
from tests.fuzz.readers import Reader, readers
from tests.fuzz.trial import Outcome, scratch, try_input

_MOST_MEMORY = 4 * 1024**3
_MOST_BUGS = 12


def try_again(reader: str, raw: bytes) -> Outcome:
    """Give a reader one input."""
    with scratch() as folder:
        return try_input(readers()[reader], raw, folder)


def try_readers(names: Sequence[str], tries: int, seed: int, keep: Path) -> bool:
    """Try the inputs, and tell whether each was met with a clear answer; bugs are kept."""
    warnings.simplefilter("error")
    resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
    chosen = [one for one in readers().values() if one.name in (names or readers())]
    whole = sum(one.share for one in chosen)
    bugs = 0
    print(
        f"{'reader':<14}{'inputs':>8}{'refused':>9}{'slowest':>11}{'mean':>10}{'peak':>9}{'bugs':>6}"
    )
    before, begun, tried = _peak_mb(), time.monotonic(), 0
    for reader in chosen:
        found = _campaign(reader, round(tries * reader.share / whole), seed, keep)
        tried += len(found)
        bugs += sum(bool(one.bug) for one in found)
    print(f"{tried} inputs in {time.monotonic() - begun:.0f} s, seed {seed}")
    print(f"peak memory {_peak_mb():.0f} MB, {before:.0f} MB before the first")
    return not bugs


def _campaign(reader: Reader, tries: int, seed: int, keep: Path) -> list[Outcome]:
    rng = random.Random(f"{seed} {reader.name}")
    found: list[Outcome] = []
    with scratch() as folder:
        hostile = [raw for name, raw in bombs() if name in (reader.name, "")]
        for number in range(tries + len(hostile)):
            if number < len(hostile):
                raw = hostile[number]
            else:
                raw = reader.spoiler(rng, rng.choice(reader.good), reader.good)
            outcome = try_input(reader, raw, folder)
            found.append(outcome)
            if outcome.bug and sum(bool(one.bug) for one in found) <= _MOST_BUGS:
                keep.mkdir(parents=True, exist_ok=True)
                kept = keep / f"{reader.name.replace(' ', '-')}-{number}"
                kept.write_bytes(raw)
                print(f"{kept}: {outcome.bug}", file=sys.stderr)
    slowest = max(one.seconds for one in found)
    mean = sum(one.seconds for one in found) / len(found)
    print(
        f"{reader.name:<14}{len(found):>8}{sum(one.is_refused for one in found):>9}"
        f"{slowest * 1000:>8.0f} ms{mean * 1000:>7.1f} ms{_peak_mb():>6.0f} MB"
        f"{sum(bool(one.bug) for one in found):>6}",
        flush=True,
    )
    return found


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
