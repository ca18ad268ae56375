"""`graph` as a tyer runs it."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.test_flykin import BOX, DUN, MIDGE, flykin
from tests.web.documents.html import read


def test_a_picture_goes_to_standard_output_or_a_file(tmp_path: Path) -> None:
    shown = flykin("graph", DUN, "--box", BOX, "--best", "4")
    assert ET.fromstring(shown.stdout).tag.endswith("svg")
    out = tmp_path / "dun.svg"
    assert flykin("graph", DUN, "--box", BOX, "--best", "4", "--out", str(out)).returncode == 0
    assert out.read_text(encoding="utf-8") == shown.stdout


def test_a_page_tells_of_every_variant(tmp_path: Path) -> None:
    out = tmp_path / "dun.html"
    done = flykin("graph", DUN, "--box", BOX, "--best", "5", "--out", str(out))
    assert (done.returncode, done.stderr) == (0, "")
    root = read(out.read_text(encoding="utf-8"))
    told = {one.attrib["id"] for one in root.findall(".//section")}
    assert {f"about-v{rank}" for rank in range(1, 6)} <= told


def test_open_formats_are_those_of_propose(tmp_path: Path) -> None:
    ours, theirs = tmp_path / "graph.json", tmp_path / "propose.json"
    flykin("graph", DUN, "--box", BOX, "--best", "4", "--out", str(ours))
    flykin("propose", DUN, "--box", BOX, "--best", "4", "--different", "--graph", str(theirs))
    assert json.loads(ours.read_text()) == json.loads(theirs.read_text())


def test_nothing_to_draw_is_exit_1() -> None:
    done = flykin("graph", MIDGE, "--box", BOX, "--size", "20")
    assert done.returncode == 1
    assert done.stdout == ""


@pytest.mark.parametrize("words", [["--out", "x.gif"], ["--best", "0"], ["--missing", "nothing"]])
def test_what_is_wrong_is_told_and_nothing_written(words: list[str]) -> None:
    done = flykin("graph", DUN, "--box", BOX, *words)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr
