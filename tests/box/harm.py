"""Harm to a box: the calls by which a command writes, struck one by one, and what is left after.

Every call that opens, writes, syncs, cuts, renames or deletes is a step. At a step the process is
killed outright, or the call fails; a write that is hit leaves half of what it should have written.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from tests.build import SMALL
from variants.box import BoxStore, atomic_replace, read_journal
from variants.box.journal import replay
from variants.reading import InputError

TEXT = (
    "# my box\n"
    "item,material,colour,mine,amount\n"
    '"cape, old",hen cape,blue dun,"a, b",1000 feathers\n'
    "reel,tying silk,primrose,,5000 m\n"
)
CALLS = ("open", "write", "fsync", "ftruncate", "replace", "unlink", "chmod", "link")
KILLED = 9
#: What an edit by hand makes of what.
TO_EDIT, EDITED = "1000 feathers", "900 feathers"
_rename = os.replace
#: Files in memory, where there are any: what is tried here is the order of the steps.
_SCRATCH = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None


@dataclass
class Tally:
    """How much harm was done, and how often something was lost."""

    injuries: int = 0
    losses: int = 0

    def note(self, sound: bool, told: str) -> None:
        """Count one injury, and what it cost."""
        self.injuries += 1
        if not sound:
            self.losses += 1
            print(f"LOST: {told}", file=sys.stderr)

    def __add__(self, other: Tally) -> Tally:
        return Tally(self.injuries + other.injuries, self.losses + other.losses)


@contextmanager
def harmed(
    place: int, strike: Callable[[], None], *, lasting: bool = False, swaps: bool = True
) -> Iterator[list[int]]:
    """Strike at the n-th call that writes, or at all from it on; yields the count of calls.

    Without `swaps` the system can't give two files each other's names.
    """
    real = {name: getattr(os, name) for name in CALLS}
    count = [0]

    def hurt(name: str) -> Callable[..., Any]:
        def call(*words: Any, **more: Any) -> Any:
            hit = count[0] >= place if lasting else count[0] == place
            count[0] += 1
            if hit:
                if name == "write":
                    real["write"](words[0], bytes(words[1])[: len(words[1]) // 2])
                strike()
            return real[name](*words, **more)

        return call

    for name in CALLS:
        setattr(os, name, hurt(name))
    swap = atomic_replace.exchange_names
    real["swap"] = swap if swaps else lambda _one, _other: False
    atomic_replace.exchange_names = hurt("swap")
    try:
        yield count
    finally:
        atomic_replace.exchange_names = swap
        for name in CALLS:
            setattr(os, name, real[name])


def die() -> None:
    """Stop as a machine stops."""
    os.kill(os.getpid(), signal.SIGKILL)


def fail(number: int) -> Callable[[], None]:
    """Return what fails as the system does."""

    def strike() -> None:
        raise OSError(number, os.strerror(number))

    return strike


def save_edit(box: Path, held: TextIO | None, *, by_rename: bool) -> None:
    """Save as an editor does: another file under the box's name, in place, or into a held one."""
    if held is not None:
        text = held.read()
        held.seek(0)
        held.truncate()
        held.write(text.replace(TO_EDIT, EDITED))
        held.flush()
        return
    # Where the system can't swap names, the box is away for a moment; the editor has its text.
    there = box if box.exists() else Path(f"{box}{atomic_replace.OLD}")
    edited = there.read_text("utf-8").replace(TO_EDIT, EDITED)
    if by_rename:
        other = box.with_name("box.csv~")
        other.write_text(edited, encoding="utf-8")
        _rename(other, box)
    else:
        box.write_text(edited, encoding="utf-8")


def use(box: Path) -> None:
    """Take a metre off the reel."""
    BoxStore(box, SMALL).use("reel", "1 m")


def reel(box: Path) -> int:
    """Return how many metres are left."""
    return int(BoxStore(box, SMALL).row("reel")["amount"].split()[0])


def agrees(box: Path) -> bool:
    """Tell whether the journal tells the box to the last byte."""
    told, invalid = replay(read_journal(box))
    return told is not None and not invalid and told.raw == box.read_bytes()


def used(box: Path) -> int:
    """Return how often the journal says that something was used."""
    return sum(entry.what == "use" for entry in read_journal(box))


def in_child(work: Callable[[], None]) -> int:
    """Do something in a process of its own; return how it ended."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    try:
        work()
        os._exit(0)
    except InputError:
        os._exit(2)
    except BaseException:
        os._exit(1)


def killed_use(box: Path, place: int, swaps: bool = True) -> int:
    """Use, and be killed at a step; return how it ended: 0 when there are fewer steps."""

    def work() -> None:
        with harmed(place, die, swaps=swaps):
            use(box)

    return in_child(work)


@contextmanager
def fresh(journal: bool) -> Iterator[Path]:
    """Make a box in a folder of its own, with a journal begun or without one."""
    with tempfile.TemporaryDirectory(dir=_SCRATCH) as folder:
        box = Path(folder).resolve() / "box.csv"
        box.write_text(TEXT, encoding="utf-8")
        if journal:
            use(box)
        yield box


def steps(journal: bool, swaps: bool = True) -> int:
    """Return how many steps a command takes."""
    with fresh(journal) as box, harmed(-1, die, swaps=swaps) as count:
        use(box)
        return count[0]


def left_clean(box: Path) -> bool:
    """Tell whether nothing lies about that is no part of a box and its journal."""
    known = {box.name, *(f"{box.name}{end}" for end in (".journal", ".previous", ".lock"))}
    return {entry.name for entry in box.parent.iterdir()} <= known


def killed(work: Callable[[], object], place: int) -> int:
    def harm() -> None:
        with harmed(place, die):
            work()

    return in_child(harm)


@contextmanager
def small_disk(kilobytes: int = 128) -> Iterator[Path | None]:
    """Mount a small file system in memory; None where that is not allowed."""
    with tempfile.TemporaryDirectory() as folder:
        if not shutil.which("mount"):
            yield None
            return
        words = ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", folder]
        if subprocess.run(words, capture_output=True).returncode:
            yield None
            return
        try:
            yield Path(folder).resolve()
        finally:
            subprocess.run(["umount", folder], check=True)
