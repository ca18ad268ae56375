"""What law and water ask is kept by every variant, and what is unknown is told as unknown."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from tests.real import box, fly, rulebook
from variants.explain import all_conflicts, repairs
from variants.model import Variant
from variants.problem import DesignProblem, Request, build_problem
from variants.reading import Faults, InputError, TomlDocument, own_rules_folder
from variants.regions import LawOfTheLand, Place, load_law, places_of
from variants.rulebook import Condition, Lawful, read_rules
from variants.search import search

REGION = """\
name = "Trial"
jurisdiction = "{place}"
[[water]]
name = "Long pool"
speed = "medium"
clarity = "clear"
surface = "smooth"
{rules}
[[natural]]
name = "olive"
order = "mayflies"
stage = "adult"
months = "May"
shortest_mm = 5
longest_mm = 7
{more}
"""
SPIDER = {
    "hook": "wet fly hook",
    "thread": "silk tying thread, brown",
    "body": "silk floss, brown",
    "hackle": "waterhen covert",
}
ROWS = [
    "hooks,wet fly hook,,14,,20 hooks",
    "barbless,barbless wet fly hook,,14,,20 hooks",
    "silk,silk tying thread,brown,,,20 m",
    "floss,silk floss,brown,,,20 m",
    "waterhen,waterhen covert,,14,,20 feathers",
    "starling,starling body feather,,14,,20 feathers",
]


@cache
def law() -> LawOfTheLand:
    return load_law(rulebook().trade)


def place(jurisdiction: str = "uk", rules: str = "", more: str = "") -> Place:
    text = REGION.format(place=jurisdiction, rules=rules, more=more)
    return places_of(TomlDocument(text, "trial.toml"), rulebook().trade, law())[0]


def best(where: Place, rows: list[str] = ROWS) -> tuple[DesignProblem, tuple[Variant, ...]]:
    request = Request(fly(SPIDER, "soft hackle"), box(rows), water=where.water.speed)
    design = build_problem(request, where.joined(rulebook()))
    return design, search(design, 50).variants


def test_a_feather_that_law_bars_is_in_no_variant_though_the_dressing_asks_for_it() -> None:
    _, found = best(place())
    assert {one.chosen["hackle"].words for one in found} == {"starling body feather"}


def test_the_same_feather_is_used_where_no_row_bars_it() -> None:
    _, found = best(place("us"))
    assert found[0].chosen["hackle"].words == "waterhen covert"


def test_barbed_hooks_are_ruled_out_where_barbless_is_asked() -> None:
    _, found = best(place("us", "barbless = true"))
    assert {one.chosen["hook"].words for one in found} == {"barbless wet fly hook, size 14"}


def test_a_barb_pressed_flat_is_warned_of_and_used() -> None:
    design, found = best(place("us", "barbless = true\npressed_barb = true"))
    assert found[0].chosen["hook"].words == "wet fly hook, size 14"
    told = {rule.id: rule for rule in design.rules}["water-barbless-or-pressed"]
    finding = told.judge({"hook": found[0].chosen["hook"].attributes})
    assert (finding.applies, finding.kept) == (True, True)


def test_no_larger_hook_than_the_water_allows() -> None:
    _, found = best(place("us", "largest_hook = 15"))
    assert found == ()
    _, found = best(place("us", "largest_hook = 14"))
    assert found


def test_nobody_is_told_to_go_against_the_law() -> None:
    design, found = best(place(), [row for row in ROWS if "starling" not in row])
    assert found == ()
    ways = repairs(design, all_conflicts(design))
    assert not any("go against" in way.says for way in ways)


def test_the_rules_of_the_house_join_those_of_the_trade() -> None:
    house = """
[[rule]]
id = "club-no-starling"
says = "The club ties no starling."
source = "house rule"
kind = "lawful"
status = "forbidden"
materials = ["starling body feather"]
"""
    _, found = best(place("us", more=house))
    assert {one.chosen["hackle"].words for one in found} == {"waterhen covert"}


def test_a_house_rule_that_is_wrong_is_told_with_its_line() -> None:
    with pytest.raises(InputError, match=r"trial\.toml:2.*lawfull"):
        place("us", more='[[rule]]\nid = "a"\nsays = "b"\nsource = "c"\nkind = "lawfull"')


def test_unknown_warns_and_allowed_is_silent() -> None:
    hook = {"hook": {"material": "hook-jig", "barbed": True}}
    barbs = (Condition("hook", "barbed", flag=True),)
    for status, applies, kept in (
        ("forbidden", True, False), ("licensed", True, True), ("unknown", True, True),
        ("allowed", False, True),
    ):  # fmt: skip
        rule = Lawful(id="a", says="b", source="c", status=status, when=barbs, on=("hook",))
        assert (rule.judge(hook).applies, rule.judge(hook).kept) == (applies, kept)


def test_one_barred_stuff_in_a_mix_bars_the_mix() -> None:
    rule = Lawful(id="a", says="b", source="c", status="forbidden", materials=frozenset({"x"}))
    assert not rule.judge({"body": {"material": "y + x"}}).kept
    assert rule.judge({"body": {"material": "y + z"}}).kept


def test_the_rules_that_waters_may_ask_for_judge_their_own_flies() -> None:
    faults = Faults()
    path = Path(own_rules_folder()) / "law" / "waters.toml"
    for rule in read_rules(path, rulebook().trade, faults, with_cases=True).values():
        assert all(rule.judge(fly).kept for fly in rule.keeps)
        assert not any(rule.judge(fly).kept for fly in rule.breaks)
        assert rule.keeps
    faults.stop_if_any()
