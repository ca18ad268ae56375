"""Nothing is lost: a part of `tests.box.injury`; all of it is done by hand."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from tests.box.harm import TEXT
from tests.breadth import most_are_slow
from tests.build import SMALL
from variants.box import BoxStore
from variants.reading import InputError

ROOT = Path(__file__).parents[2]


DO_A_PART = """
import json, sys
from tests.box.injury import part

found = part(sys.argv[1])
print(json.dumps({"injuries": found.injuries, "losses": found.losses}))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system knows no fork")
@pytest.mark.parametrize(
    ("harm", "least"),
    most_are_slow(
        [
            ("kill", 40),
            ("fail", 70),
            ("edit", 100),
            ("elsewhere", 40),
            ("mend", 30),
            ("any moment", 8),
            ("writers", 80),
            ("full disk", 0),  # only where a small disk can be had
        ],
        3,
    ),
)
def test_nothing_is_lost(harm: str, least: int) -> None:
    # A process of its own, since it forks.
    done = subprocess.run(
        [sys.executable, "-c", DO_A_PART, harm],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["losses"] == 0, done.stderr
    assert found["injuries"] >= least


SHUT = """
import os, shutil, sys
from tests.build import SMALL
from variants.box import BoxStore
from variants.reading import InputError

# All that is imported on the way, before one may be another user who can't read it.
BoxStore(sys.argv[1] + "/own.csv", SMALL).add(
    {"item": "x", "material": "hen cape", "amount": "2 feathers"}
)
BoxStore(sys.argv[1] + "/own.csv", SMALL).use("x", "1 feather")
shutil.copy(sys.argv[1] + "/shut/box.csv", sys.argv[1] + "/copy.csv")
BoxStore(sys.argv[1] + "/copy.csv", SMALL).read()
BoxStore(sys.argv[1] + "/copy.csv", SMALL).use("reel", "1 m")
if not os.getuid():
    os.setuid(65534)
store = BoxStore(sys.argv[1] + "/shut/box.csv", SMALL)
print(len(store.read().box.items), store.history())
try:
    store.use("reel", "1 m")
except InputError as problem:
    print(problem)
"""


@pytest.mark.skipif(os.name != "posix", reason="folders are shut otherwise there")
def test_a_folder_that_may_not_be_written_to_can_be_read() -> None:
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / "shut"
        folder.mkdir()
        box = folder / "box.csv"
        box.write_text(TEXT, encoding="utf-8")
        Path(made).chmod(0o755)
        folder.chmod(0o555)
        done = subprocess.run(
            [sys.executable, "-c", SHUT, made],
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
        )
        folder.chmod(0o755)
        assert done.returncode == 0, done.stderr
        assert done.stdout.startswith("2 []\n")
        assert "can't be written: permission denied" in done.stdout
        assert "the box is as it was" in done.stdout
        assert box.read_text(encoding="utf-8") == TEXT
        assert [entry.name for entry in folder.iterdir()] == ["box.csv"]


def test_a_box_that_is_held_is_waited_for_and_then_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from filelock import FileLock

    box = tmp_path / "box.csv"
    box.write_text(TEXT, encoding="utf-8")
    monkeypatch.setattr("variants.box.transaction.LOCK_TIMEOUT_S", 0.0)
    with FileLock(f"{box.resolve()}.lock"), pytest.raises(InputError, match="another command"):
        BoxStore(box, SMALL).use("reel", "1 m")
    assert box.read_text(encoding="utf-8") == TEXT


def test_a_clock_that_runs_back_changes_no_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import datetime as real

    box = tmp_path / "box.csv"
    box.write_text(TEXT, encoding="utf-8")
    store = BoxStore(box, SMALL)
    years = iter([2030, 2029, 2001, 1999, 1980])

    class Clock:
        @staticmethod
        def now(zone: real.tzinfo) -> real.datetime:
            return real.datetime(next(years), 1, 1, tzinfo=zone)

    monkeypatch.setattr("variants.box.transaction.datetime", Clock)
    for _ in range(3):
        store.use("reel", "1 m")
    store.undo()
    assert store.row("reel")["amount"] == "4998 m"
    entries = store.history()
    assert [entry.number for entry in entries] == [1, 2, 3, 4, 5]
    assert entries[-1].undoes == 4
    assert entries[-1].at < entries[0].at
