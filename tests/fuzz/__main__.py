"""Many spoilt inputs by hand: ``python -m tests.fuzz --tries 100000``.

Every reader gets its share of inputs; what is no clear complaint is written out with its input, so
that it can be tried again: ``python -m tests.fuzz --reader box --input FILE``.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import time
import warnings
from pathlib import Path

from tests.fuzz.bombs import bombs
from tests.fuzz.readers import Reader, readers
from tests.fuzz.trial import Outcome, scratch, try_input

_MOST_MEMORY = 4 * 1024**3
_MOST_BUGS = 12


def main() -> int:
    """Try the inputs; the exit code is 1 when one was met with anything but a clear answer."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--tries", type=int, default=20_000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--reader", action="append", help="this reader alone")
    asked.add_argument("--input", type=Path, help="this input alone")
    asked.add_argument("--keep", type=Path, default=Path("/tmp/fuzz"), help="where bugs go")
    options = asked.parse_args()
    warnings.simplefilter("error")
    resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
    chosen = [one for one in readers().values() if one.name in (options.reader or readers())]
    if options.input:
        with scratch() as folder:
            print(try_input(chosen[0], options.input.read_bytes(), folder))
        return 0
    whole = sum(one.share for one in chosen)
    bugs = 0
    print(
        f"{'reader':<14}{'inputs':>8}{'refused':>9}{'slowest':>11}{'mean':>10}{'peak':>9}{'bugs':>6}"
    )
    before, begun, tried = _peak_mb(), time.monotonic(), 0
    for reader in chosen:
        found = _campaign(reader, round(options.tries * reader.share / whole), options)
        tried += len(found)
        bugs += sum(bool(one.bug) for one in found)
    print(f"{tried} inputs in {time.monotonic() - begun:.0f} s, seed {options.seed}")
    print(f"peak memory {_peak_mb():.0f} MB, {before:.0f} MB before the first")
    return 1 if bugs else 0


def _campaign(reader: Reader, tries: int, options: argparse.Namespace) -> list[Outcome]:
    rng = random.Random(f"{options.seed} {reader.name}")
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
                options.keep.mkdir(parents=True, exist_ok=True)
                kept = options.keep / f"{reader.name.replace(' ', '-')}-{number}"
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


if __name__ == "__main__":
    sys.exit(main())
