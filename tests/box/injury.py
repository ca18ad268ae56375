"""Harm done to a box on purpose, step by step, and what was lost by it.

``python -m tests harm box`` does all of it and prints the figures; the tests do a part.
At each step of a command the process is killed, or the call fails once, or everything fails from
there on.
Afterwards the next command has to find a box that is wholly as before or wholly as after, and a
journal that tells the same to the last byte.
"""

from __future__ import annotations

import errno
import os
import random
import signal
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from tests.box.harm import (
    EDITED,
    KILLED,
    TEXT,
    Tally,
    agrees,
    fail,
    fresh,
    harmed,
    killed,
    killed_use,
    left_clean,
    reel,
    save_edit,
    small_disk,
    steps,
    use,
    used,
)
from tests.build import SMALL
from variants.box import BoxStore, read_journal
from variants.box.audit import audit, rebuild
from variants.reading import InputError


def kill_at_each_step() -> Tally:
    """Kill the machine at each step of a command; then go on as if nothing had been."""
    tally = Tally()
    for journal, swaps in ((False, True), (True, True), (True, False)):
        for place in range(steps(journal, swaps)):
            with fresh(journal) as box:
                before = reel(box)
                ended = killed_use(box, place, swaps)
                after = reel(box)
                use(box)
                done = 5000 - used(box)
                sound = ended == -KILLED and after in (before, before - 1)
                sound = sound and reel(box) == done and agrees(box) and left_clean(box)
                tally.note(sound, f"killed at step {place}, journal {journal}, {swaps=}")
    return tally


def kill_elsewhere() -> Tally:
    """Kill the machine where a box is begun, a hand has edited it, and it is built again."""
    return _kill_beginning() + _kill_taking_up() + _kill_rebuilding()


def _each_step(begin: Callable[[Path], Callable[[], object]]) -> Iterator[tuple[int, Path]]:
    """Yield a box after work on it was killed at its first step, its second, and so on."""
    place = 0
    while True:
        with fresh(True) as box:
            work = begin(box)
            if killed(work, place) == 0:
                return
            yield place, box
        place += 1


def _kill_beginning() -> Tally:
    """A box that is begun is there with its first thing, or not at all."""
    tally = Tally()

    def begin(box: Path) -> Callable[[], object]:
        for path in box.parent.iterdir():
            path.unlink()
        return lambda: BoxStore(box, SMALL).add({"item": "first", "material": "hen cape"})

    for place, box in _each_step(begin):
        BoxStore(box, SMALL).add({"item": "second", "material": "hen cape"})
        names = [item.id for item in BoxStore(box, SMALL).read().box.items]
        sound = names in (["second"], ["first", "second"]) and agrees(box) and left_clean(box)
        tally.note(sound, f"begun, killed at step {place}: {names}")
    return tally


def _kill_taking_up() -> Tally:
    """What was edited by hand is in the box and in the journal, wherever a command is killed."""
    tally = Tally()

    def begin(box: Path) -> Callable[[], object]:
        box.write_text(box.read_text("utf-8").replace("1000", "900"), encoding="utf-8")
        return lambda: use(box)

    for place, box in _each_step(begin):
        use(box)
        by_hand = [entry.changes for entry in read_journal(box) if entry.what == "edited by hand"]
        sound = BoxStore(box, SMALL).row("cape, old")["amount"] == "900 feathers"
        sound = sound and len(by_hand) == 1 and len(by_hand[0]) == 1
        sound = sound and reel(box) == 5000 - used(box) and agrees(box) and left_clean(box)
        tally.note(sound, f"edited by hand, killed at step {place}")
    return tally


def _kill_rebuilding() -> Tally:
    """A box that is built again is there in the end, and what it replaced is set aside."""
    tally = Tally()
    edited = TEXT.replace("1000", "900")

    def begin(box: Path) -> Callable[[], object]:
        box.write_text(edited, encoding="utf-8")
        return lambda: rebuild(box)

    for place, box in _each_step(begin):
        rebuild(box)
        texts = [path.read_text("utf-8") for path in box.parent.iterdir() if "aside" in path.name]
        sound = reel(box) == 5000 - used(box) and agrees(box) and edited in texts
        tally.note(sound, f"built again, killed at step {place}")
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


def edit_at_each_step() -> Tally:
    """Save an edit by hand at each step of a command, in each of the ways in which editors save."""
    tally = Tally()
    for way in ("renamed", "in place", "held open"):
        for swaps in (True, False):
            for place in range(steps(True, swaps) + 2):
                with fresh(True) as box:
                    sound = _edited(box, place, way, swaps)
                    tally.note(sound, f"edited at step {place}, {way}, {swaps=}")
    return tally


def _edited(box: Path, place: int, way: str, swaps: bool) -> bool:
    """Tell whether an edit is in the box, or in a file that an error names."""
    told = ""
    with box.open("r+", encoding="utf-8") as held:

        def edit() -> None:
            save_edit(box, held if way == "held open" else None, by_rename=way == "renamed")

        try:
            with harmed(place, edit, swaps=swaps) as count:
                use(box)
        except InputError as problem:
            told = str(problem)
    if count[0] <= place:
        return True
    try:
        use(box)
    except InputError as problem:
        told += str(problem)
        use(box)
    names = {entry.name for entry in box.parent.iterdir() if "set-aside" in entry.name}
    aside = [(box.parent / name).read_text("utf-8") for name in names if name in told]
    kept = EDITED in box.read_text("utf-8") or any(EDITED in text for text in aside)
    audited = audit(box, SMALL)
    return kept and all(name in told for name in names) and agrees(box) and audited.agrees


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


def writer(box: Path, times: int, who: int) -> None:
    """Be one of several writers: use a metre each time, and add a thing of one's own at times."""
    store = BoxStore(box, SMALL)
    done = 0
    while done < times:
        try:
            if done % 20 == 19:
                store.add({"item": f"writer {who} thing {done}", "material": "hen cape"})
            else:
                store.use("reel", "1 m")
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
        names = BoxStore(box, SMALL).read().box.items
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
            BoxStore(box, SMALL).record_hand_edit()
            after = reel(box)
            sound = after == 5000 - used(box) and agrees(box) and after in (seen, seen - 1)
            tally.note(sound, f"{after} m left, {used(box)} uses in the journal")
    return tally


def print_losses() -> bool:
    """Do all of it in full and print the figures; tell whether nothing was lost."""
    figures: dict[str, Tally] = {
        "killed at each step": kill_at_each_step(),
        "killed while mending": kill_while_mending(),
        "killed where begun, edited, rebuilt": kill_elsewhere(),
        "failing at each step": fail_at_each_step(),
        "edited at each step": edit_at_each_step(),
        "killed at any moment": kill_at_any_moment(300),
        "8 writers, 200 times each": many_writers(8, 200),
    }
    with small_disk() as disk:
        if disk is not None:
            figures["a disk that is full"] = full_disk(disk)
    for name, tally in figures.items():
        print(f"{name}: {tally.injuries} injuries, {tally.losses} losses")
    return not any(tally.losses for tally in figures.values())


def part(name: str) -> Tally:
    """Do a part of it, small enough for a test."""
    if name == "full disk":
        with small_disk() as disk:
            return Tally() if disk is None else full_disk(disk)
    work: dict[str, Callable[[], Tally]] = {
        "kill": kill_at_each_step,
        "elsewhere": kill_elsewhere,
        "mend": lambda: kill_while_mending(every=17),
        "fail": lambda: fail_at_each_step((errno.ENOSPC,)),
        "edit": edit_at_each_step,
        "any moment": lambda: kill_at_any_moment(8),
        "writers": lambda: many_writers(4, 20),
    }
    return work[name]()
