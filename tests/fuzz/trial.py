"""One input tried: how long it took, what was said, and whether that is a clear complaint."""

from __future__ import annotations

import signal
import time
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.fuzz.readers import Reader

#: Longer, in seconds of the processor, is a hang.
SLOW_S = 1.0
#: Whatever runs so long by the clock is stopped.
_STOPPED_AFTER_S = 60.0
#: A complaint is to be read; a longer one is none.
_LONGEST_COMPLAINT = 200_000


@dataclass(frozen=True)
class Outcome:
    """What came of one input."""

    seconds: float
    is_refused: bool
    bug: str = ""


class HangError(Exception):
    """An input took longer than anybody waits."""


@contextmanager
def _stopped_in_time() -> Iterator[None]:
    def stop(*_args: object) -> None:
        raise HangError

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, _STOPPED_AFTER_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def try_input(reader: Reader, raw: bytes, folder: Path) -> Outcome:
    """Give an input to a reader; folder is scratch and may hold what earlier inputs left."""
    begun = time.process_time()
    said, bug = None, ""
    try:
        with _stopped_in_time():
            said = reader.tries(raw, folder)
    except HangError:
        bug = "it never ended"
    except Exception:
        bug = traceback.format_exc(limit=-6)
    seconds = time.process_time() - begun
    if said is not None:
        unseen = [one for one in said if not one.isprintable() and one != "\n"]
        if unseen:
            bug = f"the complaint holds {unseen[:4]!r}"
        elif len(said) > _LONGEST_COMPLAINT:
            bug = f"the complaint is {len(said)} characters long"
        elif not said.strip():
            bug = "the complaint says nothing"
    if seconds > SLOW_S and not bug:
        bug = f"it took {seconds:.1f} s"
    return Outcome(seconds, said is not None, bug)


@contextmanager
def scratch() -> Iterator[Path]:
    """Give an empty folder, in memory where the system has such a place."""
    memory = Path("/dev/shm")
    with TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield Path(folder)
