"""A rule that calls itself silent beside something has nothing to say whatever else is there."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from tests.real import rulebook
from variants.model import Attributes, Ingredient, Value
from variants.rulebook import Rule, hook_attributes, ingredient_attributes

FLIES = 150
_COUNTS = ("turns", "turns_behind", "turns_front", "fibres", "feathers")


def _attributes(draw: random.Random, part: str) -> Attributes:
    """Return what may fill a part: nothing, or some stuff of the tables, measured and counted."""
    if draw.random() < 0.15:
        return {}
    told: dict[str, Value] = {}
    if part == "hook":
        hook = draw.choice(list(rulebook().scale.values()))
        told |= {**hook_attributes(hook), "barbed": draw.random() < 0.5}
    trade = rulebook().trade
    serving = [one for one in trade.materials.values() if one.functions & {part}]
    material = draw.choice(serving or list(trade.materials.values()))
    colour = draw.choice([None, *trade.colours.values()])
    told = {**ingredient_attributes(Ingredient(material, colour)), **told}
    told |= {name: draw.randint(0, 12) for name in _COUNTS if draw.random() < 0.5}
    told |= {"side": draw.choice(("left", "right", "pair"))} if draw.random() < 0.5 else {}
    told |= {"denier": draw.choice((30.0, 70.0, 140.0))} if draw.random() < 0.5 else {}
    told |= {"thickness_mm": draw.choice((0.05, 0.2, 2.0))} if draw.random() < 0.5 else {}
    return {**told, "tied": draw.randint(0, 12), "tone": draw.choice((None, -20.0, 0.0, 15.0))}


@pytest.mark.parametrize("rule", rulebook().rules, ids=lambda rule: rule.id)
def test_a_silent_rule_neither_forbids_nor_costs(rule: Rule) -> None:
    draw = random.Random(rule.id)
    for _ in range(FLIES):
        fly = {part: _attributes(draw, part) for part in rule.parts if draw.random() < 0.95}
        silent = [part for part in rule.parts if rule.is_silent(part, fly.get(part, {}))]
        finding = rule.judge(fly)
        if silent:
            assert (finding.kept, finding.cost) == (True, 0), (silent, fly)


def test_rules_that_need_a_part_are_known_by_it() -> None:
    kinds = Counter(rule.kind for rule in rulebook().rules if rule.needed)
    assert {"measure", "exclude", "agree", "quality", "pair"} <= kinds.keys()
