"""`tieable` on the screen and as JSON, over the valley's book and boxes."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.test_flykin import BOX, flykin
from tests.real import EXAMPLES

BOOK = str(EXAMPLES / "dressings")


def test_the_list_fits_a_terminal_and_counts_the_book() -> None:
    done = flykin("tieable", BOOK, "--box", BOX)
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    dressings = len(list((EXAMPLES / "dressings").glob("*.toml")))
    assert f"{dressings} dressings: " in done.stdout.splitlines()[-1]


def test_without_a_book_the_folder_beside_the_box_is_read() -> None:
    assert flykin("tieable", "--box", BOX).stdout == flykin("tieable", BOOK, "--box", BOX).stdout


def test_json_tells_the_same_and_departures_agree_with_propose() -> None:
    answer = json.loads(flykin("tieable", BOOK, "--box", BOX, "--json").stdout)
    assert (answer["version"], answer["complete"]) == (1, True)
    mine = next(one for one in answer["outlooks"] if one["dressing"] == "Ferryman's Dun")
    dun = f"{BOOK}/ferrymans-dun.toml"
    proposed = json.loads(flykin("propose", dun, "--box", BOX, "--best", "1", "--json").stdout)
    assert mine["departure"] == proposed["variants"][0]["departure"]
    assert mine["substitutions"][0]["part"] == "body"


def test_processes_give_the_same_answer() -> None:
    alone = flykin("tieable", BOOK, "--box", BOX)
    assert flykin("tieable", BOOK, "--box", BOX, "--workers", "2").stdout == alone.stdout


def test_what_departs_more_than_wanted_is_told_apart() -> None:
    done = flykin("tieable", BOOK, "--box", BOX, "--at-most", "0.1")
    assert "Too far off: more than 0.10" in done.stdout
    assert "too far off" in done.stdout.splitlines()[-1]


def test_a_blocked_dressing_names_part_and_rule(tmp_path: Path) -> None:
    small = tmp_path / "box.csv"
    small.write_text("item,material,colour,sizes\nhooks,dry fly hook,,14\n", encoding="utf-8")
    done = flykin("tieable", f"{BOOK}/ferrymans-dun.toml", "--box", str(small))
    assert done.returncode == 1
    assert "nothing in the box can be this part" in " ".join(done.stdout.split())


def test_two_boxes_are_compared(tmp_path: Path) -> None:
    other = tmp_path / "other.csv"
    other.write_bytes(Path(BOX).read_bytes())
    done = flykin("tieable", BOOK, "--box", BOX, "--box", str(other))
    assert "As written  With changes  Blocked  Box" in done.stdout


def test_what_is_wrong_is_told_in_one_line(tmp_path: Path) -> None:
    for arguments in (
        ["--box", BOX, "--water", "wild"],
        ["--box", BOX, "--box", BOX],
        ["--box", str(tmp_path / "none.csv")],
        [str(tmp_path), "--box", BOX],
        ["--box", BOX, "--scheduler", "nowhere at all"],
    ):
        done = flykin("tieable", *arguments)
        assert done.returncode == 2, done.stdout
        assert "Traceback" not in done.stderr
