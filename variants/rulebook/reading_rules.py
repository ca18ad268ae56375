"""Rule files (TOML) to rules: every field checked, every attribute and part known, nothing run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from variants.model import Fly, Origin, Trade, Value
from variants.reading import COUNTS, Faults, Fields, TomlDocument, shown
from variants.rulebook.attributes import (
    ATTRIBUTES,
    colour_attributes,
    hook_attributes,
    material_attributes,
)
from variants.rulebook.kinds import (
    HOOK_MEASURES,
    KINDS,
    LENGTH,
    USUAL_WATER,
    WATERS,
    Agree,
    Condition,
    Count,
    Equal,
    Exclude,
    Measure,
    Order,
    Pair,
    Quality,
    Rule,
    Sum,
)

_HOOK_SCALE = "model"


def read_rules(
    path: Path, trade: Trade, faults: Faults, *, with_cases: bool = False
) -> dict[str, Rule]:
    """Read the rules of one file by id, noting every fault; the file holds tables ``[[rule]]``.

    The cases under ``keeps`` and ``breaks`` are for tests and `flykin check`; an answer to a tyer
    does not wait for them.
    """
    document = TomlDocument.read(path)
    tables = document.value.get("rule")
    if not isinstance(tables, list) or set(document.value) != {"rule"}:
        faults.add(
            document.origin(()), "is no file of rules", "it holds tables [[rule]] and no more"
        )
        return {}
    rules: dict[str, Rule] = {}
    for index, table in enumerate(tables):
        reader = _RuleReader(document, index, table, trade, faults, with_cases)
        rule = reader.read()
        if rule is not None and rule.id in rules:
            reader.fields.wrong("id", f"the rule '{rule.id}' is given twice", "rename one of them")
        elif rule is not None:
            rules[rule.id] = rule
    return rules


class _RuleReader:
    """One rule being read."""

    def __init__(
        self,
        document: TomlDocument,
        index: int,
        table: Mapping[str, object],
        trade: Trade,
        faults: Faults,
        with_cases: bool,
    ) -> None:
        self.document, self.index, self.trade, self.faults = document, index, trade, faults
        self.with_cases = with_cases
        self.fields = Fields(table, self._locate, faults)

    def _locate(self, field: str) -> Any:
        return self.document.origin(("rule", self.index, *((field,) if field else ())))

    def read(self) -> Rule | None:
        noted = len(self.faults)
        kind = self.fields.choice("kind", KINDS, None)
        common = self._common()
        if kind not in KINDS:
            return None
        own = _READERS[kind](self)
        self.fields.finish()
        if len(self.faults) > noted:
            return None
        return KINDS[kind](**common, **own)

    def _common(self) -> dict[str, Any]:
        fields = self.fields
        styles = [fields.lookup("styles", name, self.trade.style_names, "style")
                  for name in fields.words("styles")]  # fmt: skip
        waters = fields.words("waters")
        for water in waters:
            if water not in WATERS:
                fields.wrong("waters", f"{shown(water)} is no water", "write slow, medium or fast")
        return {
            "id": fields.text("id", None),
            "says": fields.text("says", None),
            "source": fields.text("source", None),
            "styles": frozenset(style.id for style in styles if style),
            "waters": frozenset(waters),
            "weight": fields.number("weight", 0, 100),
            "keeps": self._flies("keeps"),
            "breaks": self._flies("breaks"),
            "origin": Origin(self.document.file),
        }

    def part(self, field: str = "part") -> str:
        """Read the id of one part."""
        if not self.fields.text(field, None):
            return ""
        found = self.fields.entry(field, self.trade.part_names, "part of a fly")
        return found.id if found else ""

    def parts(self, field: str) -> tuple[str, ...]:
        """Read the ids of several parts."""
        found = [
            self.fields.lookup(field, name, self.trade.part_names, "part of a fly")
            for name in self.fields.words(field)
        ]
        return tuple(part.id for part in found if part)

    def must_number(self, field: str, low: float = 0, high: float = 1e6) -> float:
        """Read a number that has to be there."""
        value = self.fields.number(field, low, high)
        if value is None and not self.fields.has(field):
            self.fields.wrong(field, f"the {field} is missing", f"write {field} = 1.5")
        return value or 0.0

    def colours(self, field: str) -> frozenset[str]:
        """Read the ids of several colours."""
        found = [
            self.fields.lookup(field, name, self.trade.colour_names, "colour")
            for name in self.fields.words(field)
        ]
        return frozenset(colour.id for colour in found if colour)

    def attribute(self, field: str = "attribute") -> str:
        """Read the name of an attribute."""
        return self.fields.choice(field, ATTRIBUTES, None)

    def conditions(self, field: str, default_part: str = "") -> tuple[Condition, ...]:
        """Read a list of conditions, each a table naming a part, an attribute and a test."""
        tables = self.fields.raw(field)
        if tables is None:
            return ()
        if isinstance(tables, dict):
            tables = [tables]
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            self.fields.wrong(field, "is no list of conditions", "write [{ attribute = … }]")
            return ()
        return tuple(self._condition(field, table, default_part) for table in tables)

    def _condition(self, field: str, table: Mapping[str, object], default_part: str) -> Condition:
        record = Fields(table, lambda _inner: self._locate(field), self.faults)
        part = record.entry("part", self.trade.part_names, "part of a fly")
        if part is None and not default_part:
            record.wrong("part", "the condition names no part", 'write part = "body"')
        attribute = record.choice("attribute", ATTRIBUTES, None)
        condition = Condition(
            part=part.id if part else default_part,
            attribute=attribute,
            among=frozenset(record.words("in")),
            not_among=frozenset(record.words("not_in")),
            at_least=record.number("at_least"),
            at_most=record.number("at_most"),
            flag=record.flag("is"),
        )
        record.finish()
        if condition == Condition(condition.part, attribute):
            record.wrong(
                "attribute",
                "the condition tests nothing",
                "add in, not_in, at_least, at_most or is",
            )
        return condition

    def _flies(self, field: str) -> tuple[Fly, ...]:
        tables = self.fields.raw(field)
        if tables is None or not self.with_cases:
            return ()
        if not isinstance(tables, list):
            self.fields.wrong(field, "is no list of flies", "write [{ hook = { size = 12 }, … }]")
            return ()
        return tuple(
            {part: self._case_part(field, part, values) for part, values in table.items()}
            for table in tables
        )

    def _case_part(self, field: str, part: str, values: Mapping[str, object]) -> dict[str, Value]:
        """Return the attributes a case gives; a material, colour or hook size brings its own."""
        trade = self.trade
        attributes: dict[str, Value] = {}
        if "material" in values:
            name = str(values["material"])
            material = self.fields.lookup(field, name, trade.material_names, "material")
            attributes.update(material_attributes(material) if material else {})
        if "colour" in values:
            colour = self.fields.lookup(field, str(values["colour"]), trade.colour_names, "colour")
            attributes.update(colour_attributes(colour))
        if part == "hook" and isinstance(values.get("size"), int):
            hook = trade.hooks.get(_HOOK_SCALE, {}).get(int(str(values["size"])))
            attributes.update(hook_attributes(hook) if hook else {})
        for name, value in values.items():
            if name not in ATTRIBUTES:
                self.fields.wrong(field, f"{shown(name)} is no attribute", "see `flykin explain`")
            elif name not in ("material", "colour", "size"):
                attributes[name] = _case_value(value)
        attributes.setdefault("tied", 1)
        return attributes


def _case_value(value: object) -> Value:
    if isinstance(value, list):
        return frozenset(map(str, value))
    return value if isinstance(value, str | int | float) else None


def _measure(rule: _RuleReader) -> dict[str, Any]:
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
    if not own["low"] <= own["nominal"] <= own["high"] or not own["nominal"]:
        rule.fields.wrong("nominal", "low, nominal and high do not stand in that order")
    return own


def _quality(rule: _RuleReader) -> dict[str, Any]:
    part = rule.part()
    conditions = rule.conditions("must", part)
    if len(conditions) != 1:
        rule.fields.wrong("must", "the rule needs one condition", "write must = { attribute = … }")
    return {"must": conditions[0] if conditions else None, "when": rule.conditions("when", part)}


def _agree(rule: _RuleReader) -> dict[str, Any]:
    return {
        "first": rule.part("first"),
        "second": rule.part("second"),
        "attribute": rule.attribute(),
        "within": rule.fields.number("within", 0, 1000) or 0.0,
        "scale": rule.fields.number("scale", 0.001, 1000) or 1.0,
        "when": rule.conditions("when"),
    }


def _exclude(rule: _RuleReader) -> dict[str, Any]:
    meet = rule.conditions("meet")
    if not meet:
        rule.fields.wrong("meet", "the rule names nothing that must not meet")
    return {"meet": meet}


def _sum(rule: _RuleReader) -> dict[str, Any]:
    return {
        "attribute": rule.attribute(),
        "over": rule.parts("over"),
        "at_most": rule.must_number("at_most"),
        "of": rule.fields.choice("of", ATTRIBUTES),
    }


def _count(rule: _RuleReader) -> dict[str, Any]:
    bounds: dict[str, tuple[int, int]] = {}
    for water in WATERS:
        value = rule.fields.raw(water)
        if value is None:
            continue
        if (
            isinstance(value, list)
            and len(value) == 2
            and all(isinstance(bound, int) for bound in value)
            and 0 <= value[0] <= value[1]
        ):
            bounds[water] = (value[0], value[1])
        else:
            rule.fields.wrong(water, f"{shown(value)} is no range of counts", "write [2, 4]")
    if USUAL_WATER not in bounds:
        rule.fields.wrong(USUAL_WATER, f"the range for {USUAL_WATER} water is missing")
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


def _pair(rule: _RuleReader) -> dict[str, Any]:
    part = rule.part()
    return {"part": part, "when": rule.conditions("when", part)}


def _equal(rule: _RuleReader) -> dict[str, Any]:
    return {
        "part": rule.part(),
        "mixed": rule.colours("mixed"),
        "single": rule.colours("single"),
        "cost": rule.must_number("cost"),
        "difference": rule.fields.text("difference", None),
        "both_ways": bool(rule.fields.flag("both_ways", True)),
    }


def _order(rule: _RuleReader) -> dict[str, Any]:
    part = rule.part()
    return {
        "part": part,
        "when": rule.conditions("when", part),
        "needs": rule.parts("needs"),
        "before": rule.parts("before"),
    }


_READERS: dict[str, Callable[[_RuleReader], dict[str, Any]]] = {
    Measure.kind: _measure,
    Quality.kind: _quality,
    Agree.kind: _agree,
    Exclude.kind: _exclude,
    Sum.kind: _sum,
    Count.kind: _count,
    Pair.kind: _pair,
    Equal.kind: _equal,
    Order.kind: _order,
}
