"""A count of the house where the fly is fished reaches what the water asks, and stands alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.real import rulebook
from tests.regions.test_adapting import DUN, REGION, fly, small_box, weights
from variants.cli.check import command
from variants.reading import TomlDocument
from variants.regions import Place, adapt, load_law, places_of, target_for
from variants.rulebook import Count
from variants.views.region import asked_of

HOUSE = """
[[rule]]
id = "house-turns"
says = "Here a dry fly is wound with two turns of hackle."
source = "the club's rules"
kind = "count"
styles = ["dry upright"]
part = "hackle"
count = "turns"
medium = [2, 2]
"""


def place(speed: str, rule: str = HOUSE) -> Place:
    text = REGION.format(speed=speed, clarity="clear", depth="0.5 m", stage="adult") + rule
    law = load_law(rulebook().trade)
    return places_of(TomlDocument(text, "trial.toml"), rulebook().trade, law)[0]


@pytest.mark.parametrize("speed", ["slow", "medium", "fast"])
def test_the_houses_own_count_is_what_the_water_asks_and_what_is_tied(speed: str) -> None:
    base = fly({**DUN, "wing": "mallard flank, mallard flank"})
    target = target_for(base, place(speed), rulebook(), weights())
    told = [words for words, source in asked_of(target, base) if source == "the club's rules"]
    assert told == ["hackle 2 turns"]
    found = adapt(fly(DUN), small_box(), rulebook(), target, within=2.0)
    assert found.front
    for one in found.front:
        assert one.variant.chosen["hackle"].attributes["turns"] == 2
        assert not any(term.what == "turns" for term in one.terms.get("hackle", ()))


def test_elsewhere_and_in_other_styles_the_trade_counts_as_before() -> None:
    joined = place("medium").joined(rulebook())
    counts = {
        style: {
            rule.id
            for rule in joined.rules_for(style, "medium")
            if isinstance(rule, Count) and rule.part == "hackle"
        }
        for style in ("dry-upright", "parachute")
    }
    assert counts == {"dry-upright": {"house-turns"}, "parachute": {"parachute-hackle-turns"}}
    assert any(rule.id == "dry-hackle-turns" for rule in rulebook().rules)


def test_two_counts_of_the_house_that_no_fly_keeps_are_told_with_their_lines(
    tmp_path: Path,
) -> None:
    other = HOUSE.replace("house-turns", "warden-turns").replace("[2, 2]", "[3, 4]")
    text = REGION.format(speed="medium", clarity="clear", depth="0.5 m", stage="adult")
    region = tmp_path / "beck.toml"
    region.write_text(text + HOUSE, encoding="utf-8")
    assert CliRunner().invoke(command, [str(region)]).exit_code == 0
    region.write_text(text + HOUSE + other, encoding="utf-8")
    done = CliRunner().invoke(command, [str(region)])
    assert done.exit_code == 2
    assert "house-turns can't be kept together with warden-turns" in done.stderr
    assert "hackle turns 2 to 2 against 3 to 4" in done.stderr
