"""Each kind of rule judges as its sentence says."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from variants.model import Attributes, Build, Fly, Value
from variants.rulebook.kinds import (
    Agree,
    Condition,
    Count,
    Exclude,
    Girth,
    Measure,
    Order,
    Pair,
    Quality,
)

WORDS = {"id": "trial", "says": "trial", "source": "common practice"}
HOOK: Attributes = {"gape_mm": 5.0, "shank_mm": 10.0, "eye_mm": 1.8, "size": 12}
BARBS = Measure(
    **WORDS,
    part="hackle",
    of="gape",
    nominal=1.5,
    low=1.27,
    high=1.78,
    short_cost=0.05,
    long_cost=0.1,
)


def hackle(low: float, high: float) -> Fly:
    return {"hook": HOOK, "hackle": {"shortest_mm": low, "longest_mm": high}}


def test_a_measure_within_reach_costs_nothing() -> None:
    finding = BARBS.judge(hackle(6.0, 8.0))
    assert finding.kept
    assert finding.cost == 0
    assert finding.numbers[0].value == 7.5


def test_a_measure_tells_by_how_much_it_misses() -> None:
    finding = BARBS.judge(hackle(5.0, 6.0))
    assert not finding.kept
    assert (finding.numbers[0].value, finding.numbers[0].low) == (6.0, 6.35)


def test_too_short_costs_less_than_too_long() -> None:
    short, long = BARBS.judge(hackle(6.75, 6.75)).cost, BARBS.judge(hackle(8.25, 8.25)).cost
    assert (short, long) == (50, 100)


def test_trimmed_fibres_may_be_longer_but_not_shorter() -> None:
    tail = Measure(**WORDS, part="tail", of="shank", nominal=1.0, low=0.9, high=1.2, trimmed=True)
    assert tail.judge({"hook": HOOK, "tail": {"shortest_mm": 20.0, "longest_mm": 40.0}}).kept
    assert not tail.judge({"hook": HOOK, "tail": {"shortest_mm": 4.0, "longest_mm": 6.0}}).kept


def test_an_unknown_measure_is_not_judged() -> None:
    assert not BARBS.judge({"hook": HOOK, "hackle": {"stiffness": 4}}).applies


def test_a_soft_quality_costs_by_the_grades_missed_and_never_more_than_its_weight() -> None:
    rule = Quality(**WORDS, weight=0.4, must=Condition("hackle", "stiffness", at_least=4))
    costs = [rule.judge({"hackle": {"stiffness": grade}}).cost for grade in (4, 3, 0)]
    assert costs == [0, 100, 400]
    far = Quality(**WORDS, weight=0.4, must=Condition("thread", "denier", at_most=70))
    assert far.judge({"thread": {"denier": 400.0}}).cost == 400


def test_agreement_is_of_words_of_numbers_and_of_shades() -> None:
    same = Agree(**WORDS, weight=0.3, first="tail", second="hackle", attribute="material")
    assert same.judge({"tail": {"material": "a"}, "hackle": {"material": "a"}}).cost == 0
    assert same.judge({"tail": {"material": "a"}, "hackle": {"material": "b"}}).cost == 300
    tone = Agree(
        **WORDS, weight=0.2, first="wing", second="body", attribute="tone", within=5.0, scale=20.0
    )
    assert tone.judge({"wing": {"tone": 0.0}, "body": {"tone": 15.0}}).cost == 100
    shade = Agree(**WORDS, first="tail", second="hackle", attribute="shade", within=6.0)
    assert shade.judge({"tail": {"shade": "#101010"}, "hackle": {"shade": "#111111"}}).kept
    assert not shade.judge({"tail": {"shade": "#101010"}, "hackle": {"shade": "#F0F0F0"}}).kept


def test_what_must_not_meet_may_stand_alone() -> None:
    rule = Exclude(
        **WORDS,
        meet=(
            Condition("wing", "class", among=frozenset({"CDC"})),
            Condition("body-coating", "material", among=frozenset({"floatant"})),
        ),
    )
    assert not rule.judge({"wing": {"class": "CDC"}, "body-coating": {"material": "floatant"}}).kept
    assert rule.judge({"wing": {"class": "CDC"}, "body-coating": {"material": "wax"}}).kept
    assert not rule.judge({"wing": {"class": "CDC"}}).applies


def test_a_girth_is_wire_and_both_sides_of_what_is_wound() -> None:
    builds = {
        "yarn": Build("wound", None, 0.7, 1, 0.9, "round", 0.25, "a test"),
        "fur dubbing": Build("dubbed", 0.25, 0.6, 1, None, "round", 0.28, "a test"),
    }
    rule = Girth(**WORDS, over=("underbody", "body"), at_most=0.35, builds=builds)
    hook = {"gape_mm": 5.0, "wire_mm": 0.5}

    def across(**parts: Mapping[str, Value]) -> float:
        return float(rule.judge({"hook": hook, **parts}).numbers[0].value)

    assert across(body={"class": "yarn", "thickness_mm": 0.4}) == pytest.approx(0.5 + 2 * 0.4)
    assert across(body={"class": "yarn"}) == pytest.approx(0.5 + 2 * 0.9)
    assert across(body={"class": "fur dubbing"}) == pytest.approx(0.25 * 5.0)
    both = {"underbody": {"class": "yarn", "thickness_mm": 0.4}, "body": {"class": "fur dubbing"}}
    assert across(**both) == pytest.approx(1.3)
    # 0.35 of the gape are 1.75 mm: a strand of 0.6 mm keeps to that, one of 0.7 mm does not.
    for thickness, kept in ((0.6, True), (0.7, False)):
        body = {"class": "yarn", "thickness_mm": thickness}
        assert rule.judge({"hook": hook, "body": body}).kept is kept


def test_softer_hackle_takes_more_turns_and_fast_water_more_still() -> None:
    bounds = {"slow": (3, 5), "medium": (6, 7), "fast": (8, 12)}
    turns = {
        (water, stiffness): Count(
            **WORDS, part="hackle", count="turns", bounds=bounds, stiffness_scales=True, water=water
        ).choose({"stiffness": stiffness}, {"stiffness": stiffness}, None)[0]
        for water in bounds
        for stiffness in (3, 4)
    }
    assert turns["slow", 4] < turns["medium", 4] < turns["fast", 4]
    assert turns["medium", 3] > turns["medium", 4]


def test_a_single_side_is_no_pair() -> None:
    rule = Pair(**WORDS, part="wing")
    kept = {side: rule.judge({"wing": {"material": "x", "side": side}}).kept for side in SIDES}
    assert kept == {"left": False, "right": False, "pair": True, None: True}


SIDES = ("left", "right", "pair", None)


def test_order_asks_for_a_part_and_for_its_place() -> None:
    needs = Order(**WORDS, part="body", needs=("rib", "body-coating"))
    assert not needs.judge({"body": {"tied": 3}}).kept
    assert needs.judge({"body": {"tied": 3}, "rib": {"tied": 2}}).kept
    before = Order(**WORDS, part="wing", before=("hackle",))
    assert before.judge({"wing": {"tied": 3}, "hackle": {"tied": 5}}).kept
    assert not before.judge({"wing": {"tied": 6}, "hackle": {"tied": 5}}).kept


def test_a_part_left_out_silences_its_rules() -> None:
    assert not BARBS.judge({"hook": HOOK, "hackle": {}}).applies
