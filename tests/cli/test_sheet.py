"""`sheet` as a tyer runs it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_flykin import BOX, DUN, MIDGE, flykin
from tests.real import EXAMPLES
from tests.web.documents.html import read, text


def test_the_sheet_goes_to_standard_output_or_a_file(tmp_path: Path) -> None:
    shown = flykin("sheet", DUN)
    assert "as written" in text(read(shown.stdout))
    out = tmp_path / "dun.html"
    assert flykin("sheet", DUN, "--out", str(out)).returncode == 0
    assert out.read_text(encoding="utf-8") == shown.stdout


def test_a_variant_of_a_box_for_a_class_as_pdf(tmp_path: Path) -> None:
    pytest.importorskip("typst")
    out = tmp_path / "dun.pdf"
    words = ["--box", BOX, "--students", "6", "--each", "2", "--variant", "2", "--paper", "letter"]
    assert flykin("sheet", DUN, *words, "--out", str(out)).returncode == 0
    assert out.read_bytes().startswith(b"%PDF-")


def test_a_region_brings_its_law_and_its_water() -> None:
    region = str(EXAMPLES / "regions" / "skirl-burn.toml")
    told = text(read(flykin("sheet", DUN, "--box", BOX, "--region", region).stdout))
    assert "Skirl Burn" in told
    assert "fast water" in told
    assert "no lead" in told


def test_json_tells_the_same() -> None:
    told = json.loads(flykin("sheet", DUN, "--box", BOX, "--students", "3", "--json").stdout)
    assert told["version"] == 1
    assert told["lines"][0]["part"] == "hook"
    hackle = next(step for step in told["steps"] if step["part"] == "hackle")
    assert hackle["target"]["low_mm"] <= hackle["target"]["right_mm"]
    assert told["substitutions"][0]["part"] == "body"
    assert len(told["kit"]) == 6


def test_nothing_to_tie_is_exit_1() -> None:
    done = flykin("sheet", MIDGE, "--box", BOX, "--size", "20")
    assert done.returncode == 1
    assert done.stdout == ""
    assert "see whynot" in done.stderr


@pytest.mark.parametrize(
    "words",
    [
        ["--out", "dun.doc"],
        ["--students", "0"],
        ["--paper", "a3"],
        ["--on", "the weir"],
        ["--size", "0"],
        ["--json", "--out", "dun.html"],
    ],
)
def test_what_is_wrong_is_told_and_nothing_written(words: list[str]) -> None:
    done = flykin("sheet", DUN, "--box", BOX, *words)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr
