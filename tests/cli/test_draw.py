"""`draw` as a tyer runs it."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.test_flykin import BOX, DUN, flykin
from tests.real import EXAMPLES


def test_a_drawing_goes_to_standard_output_or_a_file(tmp_path: Path) -> None:
    shown = flykin("draw", DUN)
    assert ET.fromstring(shown.stdout).tag.endswith("svg")
    out = tmp_path / "fly.svg"
    assert flykin("draw", DUN, "--out", str(out)).returncode == 0
    assert out.read_text(encoding="utf-8") == shown.stdout


def test_the_dressing_and_its_variant_stand_side_by_side_with_what_differs(tmp_path: Path) -> None:
    out = tmp_path / "beside.svg"
    done = flykin("draw", DUN, "--box", BOX, "--missing", "body", "--beside", "--out", str(out))
    assert done.returncode == 0
    text = out.read_text(encoding="utf-8")
    assert "as written" in text
    assert "body: otter fur" in text


def test_views_and_patterns_are_drawn_when_asked() -> None:
    plain = flykin("draw", DUN).stdout
    front = flykin("draw", DUN, "--view", "front").stdout
    both = flykin("draw", DUN, "--view", "both", "--patterns").stdout
    assert "seen from the side." in plain
    assert "seen from in front." in front
    assert "data-hatch" in both
    assert "data-hatch" not in plain
    words = [one.text for one in ET.fromstring(both).iter() if one.tag.endswith("text")]
    assert "body: otter fur" in words


def test_what_changed_is_named_from_in_front_too() -> None:
    told = ("--box", BOX, "--missing", "body", "--beside", "--view", "front")
    words = [
        one.text
        for one in ET.fromstring(flykin("draw", DUN, *told).stdout).iter()
        if one.tag.endswith("text")
    ]
    assert "body: otter fur" in words


def test_several_dressings_or_a_folder_make_a_plate_of_them() -> None:
    folder = flykin("draw", str(EXAMPLES / "dressings")).stdout
    files = [str(one) for one in sorted((EXAMPLES / "dressings").glob("*.toml"))]
    assert flykin("draw", *files).stdout == folder
    words = [one.text for one in ET.fromstring(folder).iter() if one.tag.endswith("text")]
    assert "Sluice Midge" in words
    assert "soft hackle, hook size 20" in words


def test_a_folder_without_dressings_is_no_plate(tmp_path: Path) -> None:
    done = flykin("draw", str(tmp_path))
    assert done.returncode == 2
    assert "here are 0 dressings" in done.stderr


def test_a_plate_shows_so_many(tmp_path: Path) -> None:
    out = tmp_path / "plate.png"
    pytest.importorskip("typst")
    assert flykin("draw", DUN, "--box", BOX, "--plate", "3", "--out", str(out)).returncode == 0
    assert out.read_bytes().startswith(b"\x89PNG\r\n")


@pytest.mark.parametrize(
    "words",
    [
        ["--beside"],
        ["--plate", "2"],
        ["--out", "fly.jpg"],
        ["--view", "above"],
        [DUN, "--box", BOX],
        ["--box", BOX, "--size", "0"],
        ["--out", "/nowhere/at/all/fly.svg"],
    ],
)
def test_what_is_wrong_is_told_in_one_line(words: list[str]) -> None:
    done = flykin("draw", DUN, *words)
    assert done.returncode == 2
    assert done.stdout == ""


def test_a_variant_that_the_box_does_not_give_is_not_drawn(tmp_path: Path) -> None:
    out = tmp_path / "fly.svg"
    told = flykin(
        "draw", DUN, "--box", BOX, "--max-changes", "0", "--missing", "body",
        "--variant", "3", "--out", str(out),
    )  # fmt: skip
    assert (told.returncode, out.exists()) == (1, False)
    assert told.stderr == "There is no variant to draw; see whynot.\n"
