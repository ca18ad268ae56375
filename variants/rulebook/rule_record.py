"""One table ``[[rule]]`` being read: parts, attributes, conditions and small flies, all checked."""

from __future__ import annotations

from collections.abc import Mapping

from variants.model import Fly, Origin, Trade, Value
from variants.reading import Faults, Fields, TomlDocument
from variants.rulebook.attributes import (
    ATTRIBUTES,
    colour_attributes,
    hook_attributes,
    material_attributes,
)
from variants.rulebook.kinds import Condition
from variants.text import nearest, shown

_HOOK_SCALE = "model"


class RuleRecord:
    """One rule being read: hands out its fields in the words of rules, noting what is wrong."""

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

    def _locate(self, field: str) -> Origin:
        return self.document.origin(("rule", self.index, *((field,) if field else ())))

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

    def materials(self, field: str) -> frozenset[str]:
        """Read the ids of several materials."""
        found = [
            self.fields.lookup(field, name, self.trade.material_names, "material")
            for name in self.fields.words(field)
        ]
        return frozenset(material.id for material in found if material)

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

    def flies(self, field: str) -> tuple[Fly, ...]:
        """Read the small flies that a rule states as its cases, when they are wanted."""
        tables = self.fields.raw(field)
        if tables is None or not self.with_cases:
            return ()
        if not isinstance(tables, list) or not all(map(_is_fly, tables)):
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
        if part not in trade.parts:
            remedy, near = "write a part's id", nearest(part, trade.parts)
            self.fields.wrong(field, f"{shown(part)} is no part of a fly", remedy, near)
        if "material" in values:
            name = str(values["material"])
            material = self.fields.lookup(field, name, trade.material_names, "material")
            attributes.update(material_attributes(material) if material else {})
        if "colour" in values:
            colour = self.fields.lookup(field, str(values["colour"]), trade.colour_names, "colour")
            attributes.update(colour_attributes(colour))
        size = values.get("size")
        if part == "hook" and isinstance(size, int):
            hook = trade.hooks.get(_HOOK_SCALE, {}).get(size)
            attributes.update(hook_attributes(hook) if hook else {})
        for name, value in values.items():
            if name not in ATTRIBUTES:
                remedy = "name an attribute that rules read"
                near = nearest(name, ATTRIBUTES)
                self.fields.wrong(field, f"{shown(name)} is no attribute", remedy, near)
            elif name not in ("material", "colour", "size"):
                attributes[name] = _case_value(value)
        attributes.setdefault("tied", 1)
        return attributes


def _case_value(value: object) -> Value:
    if isinstance(value, list):
        return frozenset(map(str, value))
    return value if isinstance(value, str | int | float) else None


def _is_fly(value: object) -> bool:
    return isinstance(value, dict) and all(isinstance(part, dict) for part in value.values())
