"""Harm done to a box on purpose, step by step, and what was lost by it.

``python -m tests.keeping.injury`` does all of it and prints the figures; the tests do a part. Every
call by which a command writes (open, write, sync, cut, rename, delete) is a step. At each step the
process is killed outright, or the call fails once, or everything fails from there on; a write that
is hit leaves half of what it should have written. Afterwards the next command has to find a box
that is wholly as before or wholly as after, and a journal that tells the same to the last byte.
"""

from __future__ import annotations

import errno
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.build import SMALL
from variants.keeping import Keeper, read_journal
from variants.keeping.journal import rebuilt
from variants.reading import InputError

TEXT = (
    "# my box\n"
    "item,material,colour,mine,amount\n"
    '"cape, old",hen cape,blue dun,"a, b",1000 feathers\n'
    "reel,tying silk,primrose,,5000 m\n"
)
CALLS = ("open", "write", "fsync", "ftruncate", "replace", "unlink", "chmod")
KILLED = 9


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
def harmed(place: int, strike: Callable[[], None], *, lasting: bool = False) -> Iterator[list[int]]:
    """Strike at the n-th call that writes, or at all from it on; yields the count of calls."""
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
    try:
        yield count
    finally:
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


def use(box: Path) -> None:
    """Take a metre off the reel."""
    Keeper(box, SMALL).use("reel", "1 m")


def reel(box: Path) -> int:
    """Return how many metres are left."""
    return int(Keeper(box, SMALL).row("reel")["amount"].split()[0])


def agrees(box: Path) -> bool:
    """Tell whether the journal tells the box to the last byte."""
    told = rebuilt(read_journal(box))
    return told is not None and told.raw == box.read_bytes()


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


def killed_use(box: Path, place: int) -> int:
    """Use, and be killed at a step; return how it ended: 0 when there are fewer steps."""

    def work() -> None:
        with harmed(place, die):
            use(box)

    return in_child(work)


@contextmanager
def fresh(journal: bool) -> Iterator[Path]:
    """Make a box in a folder of its own, with a journal begun or without one."""
    with tempfile.TemporaryDirectory() as folder:
        box = Path(folder).resolve() / "box.csv"
        box.write_text(TEXT, encoding="utf-8")
        if journal:
            use(box)
        yield box


def steps(journal: bool) -> int:
    """Return how many steps a command takes."""
    with fresh(journal) as box, harmed(-1, die) as count:
        use(box)
        return count[0]


def kill_at_each_step() -> Tally:
    """Kill the machine at each step of a command; then go on as if nothing had been."""
    tally = Tally()
    for journal in (False, True):
        for place in range(steps(journal)):
            with fresh(journal) as box:
                before = reel(box)
                ended = killed_use(box, place)
                after = reel(box)
                use(box)
                done = 5000 - used(box)
                sound = ended == -KILLED and after in (before, before - 1)
                sound = sound and reel(box) == done and agrees(box) and left_clean(box)
                tally.note(sound, f"killed at step {place}, journal {journal}")
    return tally


def kill_while_mending(every: int = 1) -> Tally:
    """Kill a command at a step, and the command that mends it at another."""
    tally = Tally()
    most = steps(True)
    pairs = [(one, other) for one in range(most) for other in range(2 * most)]
    for one, other in pairs[::every]:
        with fresh(True) as box:
            killed_use(box, one)
            killed_use(box, other)
            use(box)
            sound = reel(box) == 5000 - used(box) and agrees(box) and left_clean(box)
            tally.note(sound, f"killed at step {one}, then at step {other}")
    return tally


def fail_at_each_step(numbers: Sequence[int] = (errno.ENOSPC, errno.EIO, errno.EROFS)) -> Tally:
    """Let each call fail once, and everything from each call on."""
    tally = Tally()
    for journal in (False, True):
        for number in numbers:
            for lasting in (False, True):
                for place in range(steps(journal)):
                    with fresh(journal) as box:
                        sound = _failed(box, place, number, lasting)
                        tally.note(sound, f"{errno.errorcode[number]} at {place}, {lasting=}")
    return tally


def _failed(box: Path, place: int, number: int, lasting: bool) -> bool:
    before = reel(box)
    refused = False
    try:
        with harmed(place, fail(number), lasting=lasting):
            use(box)
    except InputError:
        refused = True
    # What was refused is not done; what was not refused is done, in spite of it.
    sound = reel(box) == (before if refused else before - 1)
    use(box)
    # Where everything fails, taking back may fail too: then the next command ends it.
    return sound and reel(box) == 5000 - used(box) and agrees(box) and left_clean(box)


def left_clean(box: Path) -> bool:
    """Tell whether nothing lies about that is no part of a box and its journal."""
    known = {box.name, *(f"{box.name}{end}" for end in (".journal", ".previous", ".lock"))}
    return {entry.name for entry in box.parent.iterdir()} <= known


def full_disk(folder: Path) -> Tally:
    """Use until a real disk is full, in a folder of a small file system."""
    tally = Tally()
    box = folder / "box.csv"
    box.write_text(TEXT, encoding="utf-8")
    for _ in range(4000):
        before = reel(box)
        try:
            use(box)
        except InputError as problem:
            sound = "no space left" in str(problem) and reel(box) == before and agrees(box)
            tally.note(sound, str(problem))
            if tally.injuries == 3:
                break
    else:
        tally.note(False, "the disk was never full")
    return tally


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


def writer(box: Path, times: int, who: int) -> None:
    """Be one of several writers: use a metre each time, and add a thing of one's own at times."""
    keeper = Keeper(box, SMALL)
    done = 0
    while done < times:
        try:
            if done % 20 == 19:
                keeper.add({"item": f"writer {who} thing {done}", "material": "hen cape"})
            else:
                keeper.use("reel", "1 m")
        except InputError as problem:
            # So many at once may wait too long; nothing was done then.
            if "another command" not in str(problem):
                raise
            continue
        done += 1


def many_writers(writers: int, times: int) -> Tally:
    """Let several processes write to one box at once."""
    tally = Tally()
    with fresh(False) as box:
        children = []
        for who in range(writers):
            child = os.fork()
            if not child:
                try:
                    writer(box, times, who)
                    os._exit(0)
                except BaseException as problem:
                    print(problem, file=sys.stderr)
                    os._exit(1)
            children.append(child)
        ended = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]
        added = writers * (times // 20)
        taken = writers * times - added
        names = Keeper(box, SMALL).held().box.items
        sound = ended == [0] * writers and reel(box) == 5000 - taken and len(names) == 2 + added
        sound = sound and len(read_journal(box)) == 1 + writers * times and agrees(box)
        tally.note(sound, f"{writers} writers: {reel(box)} m left, ended {ended}")
        tally.injuries = writers * times
    return tally


def kill_at_any_moment(rounds: int, seed: int = 1) -> Tally:
    """Kill a process that writes without pause, at moments drawn by lot."""
    tally, lot = Tally(), random.Random(seed)
    with fresh(True) as box:
        for _ in range(rounds):
            child = os.fork()
            if not child:
                while True:
                    use(box)
            time.sleep(lot.uniform(0.005, 0.06))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            seen = reel(box)
            Keeper(box, SMALL).take_up()
            after = reel(box)
            sound = after == 5000 - used(box) and agrees(box) and after in (seen, seen - 1)
            tally.note(sound, f"{after} m left, {used(box)} uses in the journal")
    return tally


def main() -> None:
    """Do all of it in full and print the figures."""
    figures: dict[str, Tally] = {
        "killed at each step": kill_at_each_step(),
        "killed while mending": kill_while_mending(),
        "failing at each step": fail_at_each_step(),
        "killed at any moment": kill_at_any_moment(300),
        "8 writers, 200 times each": many_writers(8, 200),
    }
    with small_disk() as disk:
        if disk is not None:
            figures["a disk that is full"] = full_disk(disk)
    for name, tally in figures.items():
        print(f"{name}: {tally.injuries} injuries, {tally.losses} losses")


def part(name: str) -> Tally:
    """Do a part of it, small enough for a test."""
    if name == "full disk":
        with small_disk() as disk:
            return Tally() if disk is None else full_disk(disk)
    work: dict[str, Callable[[], Tally]] = {
        "kill": kill_at_each_step,
        "mend": lambda: kill_while_mending(every=23),
        "fail": lambda: fail_at_each_step((errno.ENOSPC,)),
        "any moment": lambda: kill_at_any_moment(8),
        "writers": lambda: many_writers(4, 20),
    }
    return work[name]()


if __name__ == "__main__":
    if sys.argv[1:]:
        found = part(sys.argv[1])
        print(json.dumps({"injuries": found.injuries, "losses": found.losses}))
    else:
        main()
