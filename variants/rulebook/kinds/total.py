"""`sum`: a total over parts stays within bounds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Attributes, Fly
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there, told_as
from variants.rulebook.kinds.condition import Condition, attributes_by_part, some_fails


@dataclass(frozen=True, kw_only=True)
class Sum(Rule):
    """The total of an attribute over several parts stays within bounds.

    Attributes
    ----------
    attribute : str
        A number; parts that do not state it count as nothing.
    over : tuple of str
        Ids of the parts.
    at_most : float
        In units of ``of``.
    of : str
        A hook attribute such as ``wire_mm`` that scales the bound, or empty.
    when : tuple of Condition
        The rule speaks only when all of these hold.
    """

    kind: ClassVar[str] = "sum"

    attribute: str
    over: tuple[str, ...]
    at_most: float
    of: str = ""
    when: tuple[Condition, ...] = ()

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The attribute on every part, and the hook's dimension."""
        reads = attributes_by_part(self.when)
        for part in self.over:
            reads[part] = reads.get(part, frozenset()) | {self.attribute}
        if self.of:
            reads["hook"] = reads.get("hook", frozenset()) | {self.of}
        return reads

    def bound(self, fly: Fly) -> float | None:
        """Return the bound on this fly's hook."""
        if not self.of:
            return self.at_most
        value = (fly.get("hook") or {}).get(self.of)
        return self.at_most * value if isinstance(value, int | float) else None

    def is_silent(self, part: str, attributes: Attributes) -> bool:
        """Tell so when a condition on the part fails."""
        return some_fails(self.when, part, attributes)

    def judge(self, fly: Fly) -> Finding:
        """Add up and compare."""
        if not all(condition.holds(fly) for condition in self.when):
            return SILENT
        values = [
            float(value)
            for part in self.over
            if is_there(fly, part)
            and isinstance(value := fly[part].get(self.attribute), int | float)
        ]
        bound = self.bound(fly)
        if not values or bound is None:
            return SILENT
        total = sum(values)
        words, unit = told_as(self.attribute)
        numbers = (Number(f"{words} in all", total, None, bound, unit),)
        if total <= bound * 1.000001:
            return Finding(True, numbers=numbers)
        return self.broken(numbers, min(1.0, (total - bound) / bound))
