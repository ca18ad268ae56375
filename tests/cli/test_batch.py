"""`batch` on the screen, as JSON, and written off the box."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from tests.cli.test_flykin import BOX, flykin
from tests.real import EXAMPLES

BATCH = str(EXAMPLES / "batch.toml")


def test_the_plan_fits_a_terminal() -> None:
    done = flykin("batch", BATCH, "--box", BOX)
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "At the bench, in this order" in done.stdout


def test_json_adds_up() -> None:
    answer = json.loads(flykin("batch", BATCH, "--box", BOX, "--json").stdout)
    assert answer["version"] == 1
    total = sum(one["count"] * one["departure"] for one in answer["tied"])
    assert abs(total - answer["departure"]) < 1e-9


def test_committing_twice_takes_twice(tmp_path: Path) -> None:
    box = tmp_path / "box.csv"
    shutil.copyfile(BOX, box)
    for number in (1, 2):
        done = flykin("batch", BATCH, "--box", str(box), "--commit", "--yes")
        assert done.returncode == 0
        assert f"entry {number + 1} of its journal" in done.stderr


def test_more_flies_than_the_box_gives_are_asked_about_first(tmp_path: Path) -> None:
    box, wanted = tmp_path / "box.csv", tmp_path / "batch.toml"
    shutil.copyfile(BOX, box)
    shutil.copyfile(EXAMPLES / "dressings" / "packhorse-badger.toml", tmp_path / "fly.toml")
    wanted.write_text('[[fly]]\ndressing = "fly.toml"\nsize = 12\ncount = 500\n', "utf-8")
    before = box.read_bytes()
    asked = flykin("batch", str(wanted), "--box", str(box), "--commit", text="n\n")
    told = " ".join(asked.stderr.split())
    assert asked.returncode == 130
    assert "of the 500 flies. Short for the rest: " in told
    assert "hook, dry fly hook" in told
    assert "Nothing is left then of “" in told
    assert box.read_bytes() == before
    assert not Path(f"{box}.journal").exists()
    done = flykin("batch", str(wanted), "--box", str(box), "--commit", text="y\n")
    assert "Written off" in done.stderr
    assert box.read_bytes() != before


def test_a_box_from_standard_input_cannot_be_written_off() -> None:
    done = flykin("batch", BATCH, "--box", "-", "--commit", text="")
    assert done.returncode == 2
