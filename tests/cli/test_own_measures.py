"""What a water changes of counts, and what a dressing states against a rule, is told."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.cli.test_flykin import flykin
from tests.real import EXAMPLES

BADGER = EXAMPLES / "dressings" / "packhorse-badger.toml"


def run(*words: str) -> str:
    done = flykin(*words)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def full(tmp_path: Path) -> str:
    """The badger with ten turns on each side of its wing, sixty tail fibres."""
    text = BADGER.read_text(encoding="utf-8")
    text = text.replace("turns_behind = 3", "turns_behind = 10")
    text = text.replace("turns_front = 3", "turns_front = 10")
    path = tmp_path / "full.toml"
    path.write_text(text.replace("fibres = 8", "fibres = 60"), encoding="utf-8")
    return str(path)


def test_counts_as_written_are_those_of_the_sheet_and_the_amounts(full: str) -> None:
    told = json.loads(run("sheet", full, "--json"))
    counts = {line["part"]: line["counts"] for line in told["lines"]}
    assert counts["hackle"] == "20 turns, 10 behind, 10 in front"
    assert "60 fibres" in counts.values()
    assert told["which"] == "as written"
    amounts = run("amounts", full)
    assert "20 turns of stem" in amounts
    assert "60 fibres" in amounts


def test_check_says_which_counts_stand_against_a_rule(full: str) -> None:
    told = " ".join(run("check", full).split())
    assert "hackle turns: 20 (allowed" in told
    assert "fibres: 60 (allowed" in told
    assert told.count("it stands as written, and the rule is set aside for it") >= 2


def test_what_a_water_changes_is_named_in_caption_words_sheet_and_amounts() -> None:
    words = (str(BADGER), "--water", "fast")
    picture = run("draw", *words)
    (changed,) = set(re.findall(r"hackle turns 6 → \d+", picture))
    assert changed in picture.split("<desc>")[1].split("</desc>")[0]
    caption = picture.split("font-style=")[1]
    assert "fast water: " in caption
    assert changed in caption
    sheet = json.loads(run("sheet", *words, "--json"))
    assert changed in sheet["which"]
    counts = {line["part"]: line["counts"] for line in sheet["lines"]}
    assert f"{changed.split()[-1]} turns instead of 6" in counts["hackle"]
    assert changed in " ".join(run("amounts", *words).split())
    assert changed in json.loads(run("amounts", *words, "--json"))["adapted"]


def test_beside_its_variant_the_dressing_has_its_own_turns() -> None:
    box = ("--box", str(EXAMPLES / "box.csv"))
    both = run("draw", str(BADGER), *box, "--water", "fast", "--beside")
    alone = run("draw", str(BADGER), *box, "--beside")
    assert "for fast water" in both
    hackles = [[len(part.split("</g>")[0]) for part in one.split('data-part="hackle"')[1:]]
               for one in (both, alone)]  # fmt: skip
    assert hackles[0][0] == hackles[1][0]
    assert hackles[0][1] > hackles[1][1]
