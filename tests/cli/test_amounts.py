"""`amounts` and `measure` on the screen and as JSON."""

from __future__ import annotations

import json

import pytest

from tests.cli.test_flykin import BOX, DUN, flykin
from tests.real import EXAMPLES


def test_amounts_name_every_part_with_its_formula() -> None:
    done = flykin("amounts", DUN, "--box", BOX, "--flies", "12")
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    for word in ("hook", "thread", "tail", "body", "wing", "hackle", "runs out first"):
        assert word in done.stdout


def test_what_the_box_gives_is_what_its_scarcest_item_gives() -> None:
    answer = json.loads(flykin("amounts", DUN, "--box", BOX, "--json").stdout)
    supplies = answer["supplies"]
    assert [one["flies"] for one in supplies] == sorted(one["flies"] for one in supplies)
    assert answer["dressed_mass_mg"] == pytest.approx(
        sum(use["tied_mg"] or 0 for use in answer["uses"])
    )


def test_a_variant_that_does_not_exist_is_told() -> None:
    done = flykin("amounts", DUN, "--box", BOX, "--variant", "999", "--size", "14")
    assert done.returncode == 1
    assert "There is no variant 999: this box gives" in done.stderr


def test_measure_tells_mm_inches_gauge_and_source() -> None:
    gauge = str(EXAMPLES / "gauge.csv")
    done = flykin("measure", "--style", "dry upright", "--gauge", gauge, "--reading", "7 mm")
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "Source: " in done.stdout
    assert "is truly" in " ".join(done.stdout.split())


def test_measure_takes_the_hook_and_sizes_usual_in_the_style() -> None:
    told = flykin("measure", "--style", "streamer").stdout
    assert told.startswith("streamer on the streamer hook\n")
    sizes = {line.split()[0] for line in told.splitlines() if line.startswith("    ")}
    assert {"4", "10"} <= sizes
    assert "14" not in sizes


@pytest.mark.parametrize(
    "words",
    [
        ["--style", "dry uprigt"],
        ["--style", "nymph", "--hook", "peacock herl"],
        ["--style", "nymph", "--size", "x"],
        ["--style", "nymph", "--reading", "7 mm"],
        ["--style", "nymph", "--gauge", "nowhere.csv"],
        ["--style", "nymph", "--gauge", str(EXAMPLES / "gauge.csv"), "--reading", "7 ells"],
    ],
)
def test_what_is_wrong_is_told_in_one_line(words: list[str]) -> None:
    done = flykin("measure", *words)
    assert done.returncode == 2
    assert done.stdout == ""


def test_a_class_gets_a_kit_and_a_shopping_list() -> None:
    words = ("batch", str(EXAMPLES / "class.toml"), "--box", BOX, "--students", "8")
    words = (*words, "--prices", str(EXAMPLES / "prices.csv"))
    told = flykin(*words).stdout
    assert max(map(len, told.splitlines())) <= 80
    for heading in ("Laid out for the class", "To buy for them", "for each of 8 students"):
        assert heading in told
    plan = json.loads(flykin(*words, "--json").stdout)
    (hooks,) = plan["to_buy"]
    assert (hooks["amount"], hooks["size"], hooks["packs"], hooks["cost"]) == (8, 20, 1, 4.5)
    (thread, *_) = (one for one in plan["laid_out"] if one["parts"] == ["thread"])
    assert thread["each_place"] == pytest.approx(thread["amount"] / 8)
