"""`chart` as a tyer runs it."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.test_flykin import BOX, DUN, MIDGE, flykin

CHARTS = {
    "proportions": ["--style", "dry upright"],
    "box": [BOX],
    "departure": [DUN, "--box", BOX],
}


@pytest.mark.parametrize("chart", CHARTS)
def test_a_chart_goes_to_standard_output_or_a_file(chart: str, tmp_path: Path) -> None:
    shown = flykin("chart", chart, *CHARTS[chart])
    assert ET.fromstring(shown.stdout).tag.endswith("svg")
    out = tmp_path / "chart.svg"
    assert flykin("chart", chart, *CHARTS[chart], "--out", str(out)).returncode == 0
    assert out.read_text(encoding="utf-8") == shown.stdout


def test_nothing_to_draw_is_exit_1() -> None:
    done = flykin("chart", "departure", MIDGE, "--box", BOX, "--size", "20")
    assert done.returncode == 1
    assert done.stdout == ""


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["proportions", "--style", "dry uprite"], "dry upright"),
        (["proportions", "--style", "nymph", "--sizes", "99"], "99"),
        (["proportions", "--style", "nymph", "--hook", "peacock herl"], "is no hook"),
        (["box", BOX, "--out", "box.png"], "should end in .svg"),
        (["box", "nowhere.csv"], "nowhere.csv"),
        (["departure", DUN, "--box", BOX, "--best", "0"], "--best"),
    ],
)
def test_what_is_wrong_is_told_and_nothing_written(words: list[str], said: str) -> None:
    done = flykin("chart", *words)
    assert done.returncode == 2
    assert done.stdout == ""
    assert said in done.stderr


def test_an_empty_box_is_told(tmp_path: Path) -> None:
    path = tmp_path / "empty.csv"
    path.write_text("item,material,colour\n", encoding="utf-8")
    done = flykin("chart", "box", str(path))
    assert done.returncode == 2
    assert done.stdout == ""
