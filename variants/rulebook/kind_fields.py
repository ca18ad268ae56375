"""The fields of each kind of rule, read from one ``[[rule]]`` table."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from variants.reading import COUNTS
from variants.rulebook.attributes import ATTRIBUTES
from variants.rulebook.kinds import (
    HOOK_MEASURES,
    LENGTH,
    STATUSES,
    USUAL_WATER,
    WATERS,
    Agree,
    Count,
    Equal,
    Exclude,
    Girth,
    Lawful,
    Measure,
    Order,
    Pair,
    Quality,
)
from variants.rulebook.rule_record import RuleRecord
from variants.text import shown


def _measure(rule: RuleRecord) -> dict[str, Any]:
    known = (*ATTRIBUTES, LENGTH)
    part = rule.part()
    own: dict[str, Any] = {
        "part": part,
        "attribute": rule.fields.choice("attribute", known, LENGTH) or LENGTH,
        "of": rule.fields.choice("of", (*HOOK_MEASURES, "mm"), None),
        "nominal": rule.must_number("nominal"),
        "low": rule.must_number("low"),
        "high": rule.must_number("high"),
        "short_cost": rule.fields.number("short_cost", 0, 100) or 0.0,
        "long_cost": rule.fields.number("long_cost", 0, 100) or 0.0,
        "trimmed": bool(rule.fields.flag("trimmed", False)),
        "when": rule.conditions("when", part),
    }
    low, nominal, high = own["low"], own["nominal"], own["high"]
    if not low <= nominal <= high or not nominal:
        problem = f"low {low:g}, nominal {nominal:g} and high {high:g} do not rise in that order"
        rule.fields.wrong("nominal", problem, "write such as low = 0.9, nominal = 1, high = 1.2")
    return own


def _quality(rule: RuleRecord) -> dict[str, Any]:
    part = rule.part()
    conditions = rule.conditions("must", part)
    if len(conditions) != 1:
        rule.fields.wrong("must", "the rule needs one condition", "write must = { attribute = … }")
    return {"must": conditions[0] if conditions else None, "when": rule.conditions("when", part)}


def _agree(rule: RuleRecord) -> dict[str, Any]:
    return {
        "first": rule.part("first"),
        "second": rule.part("second"),
        "attribute": rule.attribute(),
        "within": rule.fields.number("within", 0, 1000) or 0.0,
        "scale": rule.fields.number("scale", 0.001, 1000) or 1.0,
        "when": rule.conditions("when"),
    }


def _exclude(rule: RuleRecord) -> dict[str, Any]:
    meet = rule.conditions("meet")
    if not meet:
        rule.fields.wrong("meet", "the rule names nothing that must not meet")
    return {"meet": meet}


def _girth(rule: RuleRecord) -> dict[str, Any]:
    over = rule.parts("over")
    if not over:
        rule.fields.wrong("over", "the rule names no parts", 'write over = ["underbody", "body"]')
    return {
        "over": over,
        "at_most": rule.must_number("at_most"),
        "when": rule.conditions("when"),
        "builds": rule.trade.builds,
    }


def _count(rule: RuleRecord) -> dict[str, Any]:
    bounds: dict[str, tuple[int, int]] = {}
    for water in WATERS:
        value = rule.fields.raw(water)
        if value is None:
            continue
        if (
            isinstance(value, list)
            and len(value) == 2
            and all(type(bound) is int for bound in value)
            and 0 <= value[0] <= value[1]
        ):
            bounds[water] = (value[0], value[1])
        else:
            rule.fields.wrong(water, f"{shown(value)} is no range of counts", "write [2, 4]")
    if not rule.fields.has(USUAL_WATER):
        problem = f"the range for {USUAL_WATER} water is missing"
        rule.fields.wrong(USUAL_WATER, problem, f"write {USUAL_WATER} = [2, 4]")
    part = rule.part()
    return {
        "part": part,
        "count": rule.fields.choice("count", COUNTS, None),
        "bounds": bounds,
        "stiffness_scales": bool(rule.fields.flag("stiffness_scales", False)),
        "each_piece": rule.fields.number("each_piece", 0.1, 1000),
        "when": rule.conditions("when", part),
        "change_cost": rule.fields.number("change_cost", 0, 10) or 0.0,
    }


def _pair(rule: RuleRecord) -> dict[str, Any]:
    part = rule.part()
    return {"part": part, "when": rule.conditions("when", part)}


def _equal(rule: RuleRecord) -> dict[str, Any]:
    return {
        "part": rule.part(),
        "mixed": rule.colours("mixed"),
        "single": rule.colours("single"),
        "cost": rule.must_number("cost"),
        "difference": rule.fields.text("difference", None),
        "both_ways": bool(rule.fields.flag("both_ways", True)),
    }


def _order(rule: RuleRecord) -> dict[str, Any]:
    part = rule.part()
    return {
        "part": part,
        "when": rule.conditions("when", part),
        "needs": rule.parts("needs"),
        "before": rule.parts("before"),
    }


def _lawful(rule: RuleRecord) -> dict[str, Any]:
    materials, when = rule.materials("materials"), rule.conditions("when")
    if not materials and not when:
        remedy = 'write materials = ["lead wire"], or when = [{ part = "hook", … }]'
        rule.fields.wrong("materials", "the rule speaks of nothing", remedy)
    on = rule.parts("on") or tuple(dict.fromkeys(one.part for one in when))
    if len(on) > 1 and when:
        rule.fields.wrong("when", "the conditions are on several parts", "write a rule for each")
    return {
        "status": rule.fields.choice("status", STATUSES, None),
        "materials": materials,
        "when": when,
        "on": on,
        "statute": rule.fields.text("statute"),
        "section": rule.fields.text("section"),
        "known": rule.fields.text("known"),
        "place": rule.fields.text("place"),
    }


#: For each kind, what reads its own fields.
KIND_FIELDS: dict[str, Callable[[RuleRecord], dict[str, Any]]] = {
    Measure.kind: _measure,
    Quality.kind: _quality,
    Agree.kind: _agree,
    Exclude.kind: _exclude,
    Girth.kind: _girth,
    Count.kind: _count,
    Pair.kind: _pair,
    Equal.kind: _equal,
    Order.kind: _order,
    Lawful.kind: _lawful,
}
