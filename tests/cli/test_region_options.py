"""`--region` on the commands that propose: law and water are kept and told."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner, Result

from tests.cli.test_flykin import flykin
from tests.real import EXAMPLES
from variants.cli.propose import command as propose

BADGER = str(EXAMPLES / "dressings" / "packhorse-badger.toml")
BOX = ["--box", str(EXAMPLES / "box.csv"), "--best", "1"]
WENDLE = EXAMPLES / "regions" / "lower-wendle.toml"


def asked(*more: str) -> Result:
    return CliRunner().invoke(propose, [BADGER, *BOX, *more])


def test_what_the_water_asks_and_what_law_says_is_told_with_whom_to_ask() -> None:
    done = asked("--region", str(WENDLE))
    assert done.exit_code == 0
    told = " ".join(done.stdout.split())
    assert "barbless dry fly hook" in told
    assert "On Lower Wendle: barbless hooks; no lead; fly only; no hook larger than size 12" in told
    # The badger of the name is a cock's hackle; mallard is free from a farm, and wild in season.
    assert "Allowed, United Kingdom: mallard flank (farmed): to hold, sell or buy: " in told
    assert "Conditional, United Kingdom: mallard flank (wild): to sell or buy: " in told
    assert "Not looked up" not in told
    assert "no legal advice: check" in told


def test_of_several_waters_one_has_to_be_named(tmp_path: Path) -> None:
    text = WENDLE.read_text(encoding="utf-8")
    second = text[text.index("[[water]]") : text.index("[[natural]]")].replace(
        "Lower Wendle, the chalk stream", "Mill pool"
    )
    two = tmp_path / "two.toml"
    two.write_text(text.replace("[[natural]]", second + "[[natural]]", 1), encoding="utf-8")
    done = asked("--region", str(two))
    assert done.exit_code == 2
    assert "name one with --on: Lower Wendle, the chalk stream, Mill pool" in done.stderr
    assert asked("--region", str(two), "--on", "mill pool").exit_code == 0
    done = asked("--region", str(two), "--on", "mil pool")
    assert done.exit_code == 2
    assert "did you mean 'mill pool'" in done.stderr


def test_a_water_without_a_region_is_refused() -> None:
    assert asked("--on", "Mill pool").exit_code == 2


def test_the_answer_as_json_holds_the_law() -> None:
    law = json.loads(asked("--region", str(WENDLE), "--json").stdout)["law"]
    assert {row["status"] for row in law["told"]} >= {"conditional"}
    assert all(row["address"] and row["text_date"] and row["seen"] for row in law["told"])
    # No law could speak of wire; thread and hooks are no news either.
    assert not {"copper wire", "dry fly hook"} & set(law["unknown"])
    assert "no legal advice" in law["advice"]
    assert "law" not in json.loads(asked("--json").stdout)


def test_a_word_that_a_water_lacks_is_asked_for_with_all_that_it_may_be(tmp_path: Path) -> None:
    file = tmp_path / "mill.toml"
    file.write_text('name = "Mill"\n[[water]]\nname = "Race"\nspeed = "fast"\nclarity = "clear"\n')
    told = flykin("check", str(file))
    assert told.returncode == 2
    assert "mill.toml:2: water.surface: the surface is missing" in told.stderr
    assert "help: write one of: smooth, " in told.stderr
