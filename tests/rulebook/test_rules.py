"""Every rule in rules/trade judges its own small flies, and says where it comes from."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from variants.model import Trade
from variants.reading import Faults, read_trade
from variants.rulebook.kinds import (
    KINDS,
    WATERS,
    Agree,
    Condition,
    Count,
    Equal,
    Exclude,
    Girth,
    Lawful,
    Measure,
    Order,
    Pair,
    Quality,
    Rule,
)
from variants.rulebook.rule_files import read_rules

RULES = Path(__file__).parents[2] / "rules"
FILES = sorted((RULES / "trade").glob("*.toml"))
FEWEST_RULES = 120
#: Words of a condition that must be ids of a table or words of a closed list.
VOCABULARIES = ("material", "class", "colour", "marking", "water", "texture", "side", "functions")


def _load() -> tuple[Trade, list[Rule]]:
    trade, faults = read_trade([RULES]), Faults()
    rules = [
        rule for path in FILES for rule in read_rules(path, trade, faults, with_cases=True).values()
    ]
    faults.stop_if_any()
    return trade, rules


TRADE, ALL = _load()
BY_ID = {rule.id: rule for rule in ALL}
JUDGING = [rule for rule in ALL if not isinstance(rule, Equal)]
EXCHANGES = [rule for rule in ALL if isinstance(rule, Equal)]
each_judging_rule = pytest.mark.parametrize("rule", JUDGING, ids=[rule.id for rule in JUDGING])
each_rule = pytest.mark.parametrize("rule", ALL, ids=[rule.id for rule in ALL])


@pytest.mark.parametrize(
    "rule",
    [rule for rule in ALL if isinstance(rule, Measure) and rule.weight],
    ids=lambda one: one.id,
)
def test_a_measure_further_off_never_costs_less(rule: Measure) -> None:
    short = (rule.nominal - rule.low) / rule.nominal * 10 * rule.short_cost
    long = (rule.high - rule.nominal) / rule.nominal * 10 * rule.long_cost
    assert max(short, long) <= rule.weight + 1e-9


@each_rule
def test_flies_that_keep_the_rule_are_kept(rule: Rule) -> None:
    for fly in rule.keeps:
        finding = rule.judge(fly)
        assert finding.kept
        # A measure off its nominal or a count off the dressing's own costs a little even if kept.
        if not isinstance(rule, Measure | Count):
            assert finding.cost == 0


@each_rule
def test_flies_that_break_the_rule_are_ruled_out_or_pay(rule: Rule) -> None:
    for fly in rule.breaks:
        finding = rule.judge(fly)
        assert finding.applies
        if rule.is_hard:
            assert not finding.kept
        else:
            assert finding.kept
            assert finding.cost > 0


@each_judging_rule
def test_a_fly_that_keeps_the_rule_is_judged_and_not_passed_over(rule: Rule) -> None:
    assert any(rule.judge(fly).applies for fly in rule.keeps)


@each_rule
def test_a_soft_rule_that_is_broken_costs_no_more_than_its_weight(rule: Rule) -> None:
    for fly in rule.breaks:
        if rule.weight is not None:
            assert rule.judge(fly).cost <= round(rule.weight * 1000)


@each_judging_rule
def test_only_a_rule_that_may_cost_does(rule: Rule) -> None:
    flies = (*rule.keeps, *rule.breaks)
    assert rule.may_cost or not any(rule.judge(fly).cost for fly in flies)


@each_rule
def test_the_rule_is_silent_where_there_is_no_fly(rule: Rule) -> None:
    finding = rule.judge({})
    assert not finding.applies
    assert finding.cost == 0


@each_judging_rule
def test_the_rule_has_its_cases(rule: Rule) -> None:
    assert rule.keeps
    assert rule.breaks


@pytest.mark.parametrize("rule", EXCHANGES, ids=[rule.id for rule in EXCHANGES])
def test_an_exchange_sets_a_mix_against_single_feathers_that_carry_several_colours(
    rule: Equal,
) -> None:
    assert len(rule.mixed) >= 2
    assert rule.single
    assert not rule.mixed & rule.single
    assert rule.difference
    assert 0 < rule.cost < 0.35  # dearer than one feather alone, it would never be taken
    for name in rule.single:
        colour = TRADE.colours[name]
        assert len(colour.components) > 1 or colour.marking != "solid", name


@each_rule
def test_the_rule_says_one_plain_sentence_and_names_its_source(rule: Rule) -> None:
    assert rule.source.strip()
    assert re.fullmatch(r"[A-Z\"].*[.]", rule.says), rule.says
    assert 20 <= len(rule.says) <= 170
    assert ". " not in rule.says


@each_rule
def test_the_id_is_kebab_case(rule: Rule) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rule.id)


@each_rule
def test_no_trade_mark_and_no_company_stand_in_a_rule(rule: Rule) -> None:
    text = f"{rule.says} {rule.source}"
    assert not re.search(r"[®™]|\b(?:Inc|Ltd|LLC|GmbH)\b|\bbrand", text)


@each_rule
def test_a_source_is_a_work_or_an_honest_grade(rule: Rule) -> None:
    cited = re.search(
        r"\b1[89]\d\d\b|\b20\d\d\b|\.(?:com|net|org|co\.uk)\b|booklet|C\. Helm", rule.source
    )
    honest = re.search(r"common practice|from memory|physics|computed|geometry", rule.source)
    assert cited or honest


@each_rule
def test_water_is_one_that_the_commands_know(rule: Rule) -> None:
    assert rule.waters <= set(WATERS)
    assert rule.waters != set(WATERS)


def _conditions(rule: Rule) -> tuple[Condition, ...]:
    if isinstance(rule, Quality):
        return (rule.must, *rule.when)
    if isinstance(rule, Exclude):
        return rule.meet
    return rule.when if isinstance(rule, Agree | Order | Pair) else ()


def _vocabulary(attribute: str) -> set[str]:
    materials = TRADE.materials.values()
    return {
        "material": set(TRADE.materials),
        "class": {material.kind for material in materials},
        "colour": set(TRADE.colours),
        "marking": set(TRADE.markings),
        "water": {"floats", "neutral", "soaks", "sinks"},
        "texture": {"smooth", "fuzzy", "spiky", "crinkled", "segmented", "flat"},
        "side": {"left", "right", "pair"},
        "functions": {word for material in materials for word in material.functions},
    }[attribute]


@each_rule
def test_words_in_a_condition_are_words_of_the_tables(rule: Rule) -> None:
    for condition in _conditions(rule):
        if condition.attribute in VOCABULARIES:
            assert condition.among | condition.not_among <= _vocabulary(condition.attribute)


def _parts_it_speaks_of(rule: Rule) -> set[str]:
    """Return the parts without which the rule never speaks; a girth may lack some of its parts."""
    return {rule.part} if isinstance(rule, Order) else set(rule.parts)


@each_rule
def test_the_styles_of_a_rule_have_its_parts(rule: Rule) -> None:
    for name in rule.styles:
        parts = {part.part for part in TRADE.styles[name].parts}
        spoken_of = _parts_it_speaks_of(rule)
        assert spoken_of & parts if isinstance(rule, Girth) else spoken_of <= parts, name


@pytest.mark.parametrize("style", sorted(TRADE.styles))
def test_the_tying_order_of_a_style_keeps_the_rules_of_order(style: str) -> None:
    fly = {part.part: {"tied": place} for place, part in enumerate(TRADE.styles[style].parts, 1)}
    for rule in ALL:
        if isinstance(rule, Order) and rule.is_hard and rule.applies_to(style, None):
            assert rule.judge(fly).kept, rule.id


def test_ids_are_unique() -> None:
    assert not [name for name, count in Counter(rule.id for rule in ALL).items() if count > 1]


def test_there_are_enough_rules_of_every_kind_and_for_every_style() -> None:
    assert len(ALL) >= FEWEST_RULES
    assert {rule.kind for rule in ALL} == KINDS.keys() - {Lawful.kind}
    for style in TRADE.styles:
        assert sum(style in rule.styles for rule in ALL) >= 8, style


def test_a_file_opens_by_saying_what_it_holds() -> None:
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        assert text.startswith("# "), path.name
        assert tomllib.loads(text)["rule"], path.name


def test_a_short_hackle_costs_less_than_a_long_one() -> None:
    rule = BY_ID["dry-hackle-length"]
    hook = {"gape_mm": 5.0}
    short = rule.judge({"hook": hook, "hackle": {"shortest_mm": 5.0, "longest_mm": 7.0}})
    long = rule.judge({"hook": hook, "hackle": {"shortest_mm": 8.0, "longest_mm": 9.0}})
    assert 0 < short.cost < long.cost


@pytest.mark.parametrize("stiffness", [3, 4])
@pytest.mark.parametrize("water", WATERS)
def test_turns_behind_and_before_the_wing_add_up_to_the_turns_in_all(
    water: str, stiffness: int
) -> None:
    def chosen(name: str) -> int:
        rule = BY_ID[name]
        assert isinstance(rule, Count)
        feather = {"stiffness": stiffness}
        return replace(rule, water=water).choose(feather, feather, None)[0]

    apart = chosen("dry-hackle-turns-behind-wing") + chosen("dry-hackle-turns-before-wing")
    assert apart == chosen("dry-hackle-turns")


def test_faster_water_asks_more_turns_of_a_dry_hackle() -> None:
    rule = BY_ID["dry-hackle-turns"]
    assert isinstance(rule, Count)
    stiff = {"stiffness": 4}
    turns = [replace(rule, water=water).choose(stiff, stiff, None)[0] for water in WATERS]
    assert turns == sorted(turns)
    assert len(set(turns)) == len(WATERS)
