"""What law and water ask is kept by every variant, and what is unknown is told as unknown."""

from __future__ import annotations

from functools import cache
from itertools import product
from pathlib import Path

import pytest

from tests.real import box, fly, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import search
from variants.explain import find_all_conflicts, find_repairs
from variants.model import Variant
from variants.reading import Faults, InputError, TomlDocument, own_rules_folder
from variants.regions import LawOfTheLand, Place, load_law, places_of
from variants.rulebook import Condition, Lawful, read_rules

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


def best(
    where: Place, rows: list[str] = ROWS, *, dressing: dict[str, str] = SPIDER
) -> tuple[DesignProblem, tuple[Variant, ...]]:
    style = "nymph" if "bead" in dressing else "soft hackle"
    request = Request(fly(dressing, style), box(rows), water=where.water.speed)
    design = build_problem(request, where.joined(rulebook()))
    return design, search(design, 50).variants


JAY = {**SPIDER, "hackle": "blue jay covert", "thorax": "cat belly fur"}
JAY_ROWS = [
    *ROWS[:4],
    "jay,blue jay covert,,14,,20 feathers",
    "cat,cat belly fur,,,,2 g",
]


def hackles(found: tuple[Variant, ...]) -> list[str]:
    return [one.chosen["hackle"].words for one in found]


def test_a_feather_that_law_bars_is_in_no_variant_though_the_dressing_asks_for_it() -> None:
    _, found = best(place("us"), [*JAY_ROWS, ROWS[5]], dressing=JAY)
    assert set(hackles(found)) == {"starling body feather"}
    assert not any("cat" in one.chosen["thorax"].words for one in found)


def test_cat_fur_and_blue_jay_are_not_even_the_last_resort_in_the_united_states() -> None:
    assert best(place("us"), JAY_ROWS, dressing=JAY)[1] == ()
    # Where nothing was looked up they stand behind, though the dressing asks for both.
    others = ["hen,hen neck hackle,,14,,20 feathers", "mole,mole fur,,,,2 g"]
    _, found = best(place("no"), [*JAY_ROWS, *others], dressing=JAY)
    assert "jay" not in found[0].chosen["hackle"].words
    assert "cat" not in found[0].chosen["thorax"].words


def test_what_may_be_barred_stands_behind_what_no_law_bars() -> None:
    rows = [*ROWS, "hen,hen neck hackle,,14,,20 feathers"]
    design, found = best(place(), rows)
    # White hen is as unlike waterhen as a hackle can be, and goes before all the same.
    in_order = hackles(found)
    assert "hen neck" in in_order[0]
    barred = {"waterhen covert", "starling body feather"}
    first_barred = next(rank for rank, one in enumerate(in_order) if one in barred)
    assert not any("hen neck" in one for one in in_order[first_barred:])
    told = {(rule.id, rule.parts): rule for rule in design.rules}["uk-04-in-part", ("hackle",)]
    assert told.judge({"hackle": {"material": "waterhen-hackle"}}).cost == 2000


@pytest.mark.parametrize("where", ["uk", "eu", "us", "no", "ca"])
def test_the_order_under_law_is_that_of_a_look_at_every_fly(where: str) -> None:
    rows = [*ROWS, "jay,blue jay covert,,14,,20 feathers", "coot,coot covert,,14,,9 feathers"]
    design, found = best(place(where), rows)
    departures = []
    for chosen in product(*design.domains.values()):
        by_part = dict(zip(design.domains, chosen, strict=True))
        beside = [(one, [by_part[part] for part in one.parts]) for one in design.constraints]
        if all(one.allows(those) for one, those in beside):
            own = sum(one.cost for one in chosen)
            departures.append(own + sum(one.cost(those) for one, those in beside))
    assert [one.departure for one in found] == sorted(departures)[: len(found)]
    assert len(found) == min(50, len(departures)) > 0


def test_conditions_cost_a_stand_in_a_little_and_what_the_dressing_asks_for_nothing() -> None:
    snipe = {**SPIDER, "hackle": "snipe covert"}
    rows = [*ROWS[:4], "snipe,snipe covert,,14,,9 feathers", "coot,coot covert,,14,,9 feathers"]
    design, found = best(place(), rows, dressing=snipe)
    assert hackles(found)[0] == "snipe covert"
    told = next(one for one in design.rules if one.id == "law-conditions" and "hackle" in one.parts)
    costs = {
        name: told.judge({"hackle": {"material": name}}).cost
        for name in ("snipe-hackle", "coot-hackle", "hen-neck")
    }
    assert costs == {"snipe-hackle": 0, "coot-hackle": 40, "hen-neck": 0}


def test_the_same_feather_costs_nothing_where_conditions_are_all_that_law_makes() -> None:
    _, found = best(place("ca"))
    assert found[0].chosen["hackle"].words == "waterhen covert"


BEADED = {
    "hook": "nymph hook",
    "thread": "nylon tying thread",
    "bead": "brass bead",
    "body": "hare's mask fur",
}
BEAD_ROWS = [
    "hooks,nymph hook,,14,,20 hooks",
    "thread,nylon tying thread,,,,20 m",
    "beads,brass bead,gold,,,20 beads",
    "hare,hare's mask fur,,,,2 g",
]


def has_bead(found: tuple[Variant, ...]) -> set[bool]:
    return {bool(one.chosen["bead"].ingredients) for one in found}


@pytest.mark.parametrize(
    ("where", "rules", "bead_passes"),
    [
        ("ca-maritimes", "fly_only = true", False),
        ("ca-maritimes", "", True),
        ("nz-taupo", "fly_only = true", True),
        ("us-or", "fly_only = true", True),
        ("uk", "fly_only = true", True),
        ("uk", "unweighted = true", False),
    ],
)
def test_what_counts_as_a_fly_is_what_the_law_of_the_place_says(
    where: str, rules: str, bead_passes: bool
) -> None:
    _, found = best(place(where, rules), BEAD_ROWS, dressing=BEADED)
    assert (True in has_bead(found)) is bead_passes


def test_a_weighted_fly_is_asked_about_only_where_no_law_says_what_a_fly_is() -> None:
    ids = {
        where: {one.id for one in place(where, "fly_only = true").rules}
        for where in ("uk", "ca-maritimes", "nz-taupo")
    }
    assert ["water-fly-only-weight" in ids[one] for one in ids] == [True, False, False]


@pytest.mark.parametrize(
    ("rules", "attributes", "is_kept"),
    [
        ("most_points = 1", {"points": 2}, False),
        ("most_points = 2", {"points": 2}, True),
        ("most_points = 2", {"points": 3}, False),
        ('largest_gape = "13 mm"', {"gape_mm": 13.0}, True),
        ('largest_gape = "13 mm"', {"gape_mm": 13.1}, False),
        ("unweighted = true", {"weighs": frozenset({"bead"})}, False),
    ],
)
def test_waters_speak_of_points_gape_and_weight(
    rules: str, attributes: dict[str, object], is_kept: bool
) -> None:
    added = [one for one in place("uk", rules).rules if one.id.startswith("water-")]
    fly_ = {"hook": {"material": "hook-nymph", **attributes}}
    assert all(rule.judge(fly_).kept for rule in added) is is_kept  # type: ignore[arg-type]


def test_a_double_is_no_fly_where_the_law_asks_for_one_point() -> None:
    double = {"hook": {"material": "hook-wet-standard", "points": 2, "barbed": False}}
    for where, is_kept in (("us-me", False), ("us-ny", True), ("ca-parks", True), ("uk", True)):
        rules = place(where, "fly_only = true").rules
        judged = [one.judge(double).kept for one in rules if isinstance(one, Lawful)]
        assert all(judged) is is_kept, where


def test_a_gape_that_is_none_is_located() -> None:
    with pytest.raises(InputError, match="write a gape with its unit"):
        place("uk", 'largest_gape = "13"')
    with pytest.raises(InputError, match="is no gape"):
        place("uk", 'largest_gape = "13 g"')


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
    design, found = best(place("us"), JAY_ROWS, dressing=JAY)
    assert found == ()
    ways = find_repairs(design, find_all_conflicts(design))
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


def test_what_is_asked_warns_and_what_is_allowed_is_silent() -> None:
    hook = {"hook": {"material": "hook-jig", "barbed": True}}
    barbs = (Condition("hook", "barbed", flag=True),)
    for status, applies, kept in (
        ("forbidden", True, False),
        ("permit", True, True),
        ("conditional", True, True),
        ("depends", True, True),
        ("silent", False, True),
        ("allowed", False, True),
    ):
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
