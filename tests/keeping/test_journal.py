"""Taking from a box: all or none, remembered, and safe from a machine that stops at any moment."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import pytest

from tests.real import ROOT, rulebook
from variants.keeping import Taking, read_journal, write_off
from variants.keeping.journal import JOURNAL, PENDING, PREVIOUS
from variants.reading import InputError, read_box

TEXT = (
    "# my box\n"
    "item,material,colour,mine,amount\n"
    '"cape, old",rooster-neck-dry,ginger,"a, b",25 feathers\n'
    "reel,tinsel-oval-gold,gold,,2 m\n"
)
CAPE = Taking("cape, old", "25 feathers", "24 feathers")
REEL = Taking("reel", "2 m", "1.9 m")


@pytest.fixture
def box(tmp_path: Path) -> Path:
    path = tmp_path / "box.csv"
    path.write_text(TEXT, encoding="utf-8")
    return path


def amounts(box: Path) -> dict[str, str]:
    read_box(box, rulebook().trade)  # it is still a box
    lines = [line for line in box.read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    return {row["item"]: row["amount"] for row in csv.DictReader(lines)}


def test_what_is_taken_leaves_comments_columns_and_order(box: Path) -> None:
    entry = write_off(box, "a dozen", [CAPE, REEL])
    assert entry.number == 1
    assert box.read_text(encoding="utf-8") == TEXT.replace("25 feathers", "24 feathers").replace(
        "2 m", "1.9 m"
    )
    assert Path(f"{box}{PREVIOUS}").read_text(encoding="utf-8") == TEXT
    assert [one.takings for one in read_journal(box)] == [(CAPE, REEL)]
    assert not Path(f"{box}{PENDING}").exists()


def test_a_box_that_changed_meanwhile_is_left_alone(box: Path) -> None:
    with pytest.raises(InputError, match="has changed since it was read"):
        write_off(box, "stale", [REEL, Taking("cape, old", "30 feathers", "29 feathers")])
    assert box.read_text(encoding="utf-8") == TEXT
    assert read_journal(box) == []


def test_a_journal_that_was_changed_is_refused_and_nothing_is_written(box: Path) -> None:
    write_off(box, "one", [CAPE])
    journal = Path(f"{box}{JOURNAL}")
    journal.write_text(journal.read_text(encoding="utf-8").replace("one", "two"), encoding="utf-8")
    before = box.read_bytes()
    with pytest.raises(InputError, match="does not fit its checksum"):
        write_off(box, "next", [REEL])
    assert box.read_bytes() == before


#: Stops the machine at the n-th file operation of `write_off`.
STOP = """
import os, sys
from variants.keeping import Taking, write_off
from variants.keeping import journal, writing

left = int(sys.argv[2])

def dying(real):
    def call(*words, **more):
        global left
        left -= 1
        if left < 0:
            os._exit(9)
        return real(*words, **more)
    return call

os.fsync = dying(os.fsync)
os.replace = dying(os.replace)
journal.shutil.copyfile = dying(journal.shutil.copyfile)
journal.Path.unlink = dying(journal.Path.unlink)
write_off(sys.argv[1], "a dozen", [Taking("reel", "2 m", "1.9 m")])
"""


@pytest.mark.parametrize("place", range(8))
def test_a_machine_that_stops_at_any_step_loses_nothing(box: Path, place: int) -> None:
    done = subprocess.run(
        [sys.executable, "-c", STOP, str(box), str(place)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    after = amounts(box)["reel"]
    assert after in ("2 m", "1.9 m")
    # Whatever happened, the next command finds box and journal agreeing.
    write_off(box, "next", [CAPE])
    entries = read_journal(box)
    taken = [taking.item for entry in entries for taking in entry.takings]
    assert taken == (["reel", "cape, old"] if after == "1.9 m" else ["cape, old"])
    if done.returncode == 0:
        assert after == "1.9 m"


def _full(*words: object, **more: object) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize("step", ["copyfile", "replace"])
def test_a_full_disk_leaves_the_box_as_it_was(
    box: Path, step: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shutil.copyfile" if step == "copyfile" else "os.replace", _full)
    with pytest.raises(InputError, match="no space left"):
        write_off(box, "a dozen", [CAPE])
    monkeypatch.undo()
    assert box.read_text(encoding="utf-8") == TEXT
    write_off(box, "a dozen", [CAPE])
    assert amounts(box)["cape, old"] == "24 feathers"


def take_many(path: str, times: int) -> int:
    done = 0
    while done < times:
        left = next(i for i in read_box(path, rulebook().trade).items if i.id == "reel").amount
        assert left is not None
        before, after = f"{left.magnitude:g} m", f"{left.magnitude - 1:g} m"
        try:
            write_off(path, "one", [Taking("reel", before, after)])
            done += 1
        except InputError:
            continue  # another one was quicker: read the box again
    return done


def test_many_at_once_take_what_they_say(box: Path) -> None:
    box.write_text(TEXT.replace("2 m", "100 m"), encoding="utf-8")
    with ProcessPoolExecutor(4) as pool:
        done = sum(pool.map(take_many, [str(box)] * 4, [6] * 4))
    assert done == 24
    assert amounts(box)["reel"] == "76 m"
    assert len(read_journal(box)) == 24


def test_a_line_cut_short_is_left_out(box: Path) -> None:
    write_off(box, "one", [CAPE])
    with open(f"{box}{JOURNAL}", "a", encoding="utf-8") as journal:
        journal.write(json.dumps({"number": 2})[:6])
    assert len(read_journal(box)) == 1
    write_off(box, "two", [REEL])
    assert [one.number for one in read_journal(box)] == [1, 2]
