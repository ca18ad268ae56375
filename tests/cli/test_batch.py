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
        done = flykin("batch", BATCH, "--box", str(box), "--commit")
        assert done.returncode == 0
        assert f"entry {number + 1} of its journal" in done.stderr


def test_a_box_from_standard_input_cannot_be_written_off() -> None:
    done = flykin("batch", BATCH, "--box", "-", "--commit", text="")
    assert done.returncode == 2
