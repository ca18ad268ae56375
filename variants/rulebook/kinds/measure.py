"""`measure`: a part's measure against a dimension of the hook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf
from typing import ClassVar

from variants.model import Attributes, Fly
from variants.rulebook.kinds.base import (
    SILENT,
    THOUSANDTHS,
    Finding,
    Number,
    Rule,
    is_there,
)
from variants.rulebook.kinds.condition import Condition, attributes_by_part

LENGTH = "length"
_HOOK_ATTRIBUTES = {"gape": "gape_mm", "shank": "shank_mm", "eye": "eye_mm", "wire": "wire_mm"}
HOOK_MEASURES = tuple(_HOOK_ATTRIBUTES)


def _unit_mm(of: str, hook: Attributes) -> float | None:
    if of not in _HOOK_ATTRIBUTES:
        return 1.0
    value = hook.get(_HOOK_ATTRIBUTES[of])
    return float(value) if isinstance(value, int | float) else None


@dataclass(frozen=True, kw_only=True)
class Measure(Rule):
    """A part's measure stands in a proportion to the hook.

    Attributes
    ----------
    part, attribute : str
        ``length`` picks the best length that the material offers between its shortest and longest
        fibre; any other attribute (``denier``, ``thickness_mm``) is one number.
    of : str
        ``gape``, ``shank``, ``eye``, ``wire``; or ``mm`` for an absolute measure.
    nominal, low, high : float
        In that unit. Outside low and high the fly is ruled out (a hard rule) or pays the weight.
    short_cost, long_cost : float
        Departure for each tenth that the measure falls short of, or exceeds, the nominal.
    trimmed : bool
        Whether the butts are cut, so that any longer fibre serves.
    when : tuple of Condition
        The rule speaks only when all of these hold.
    limit : (of, low, high) or None
        The trade's own hard bounds, where a dressing's own measure stands in place of the nominal:
        whoever states it, no measure moves them.
    """

    kind: ClassVar[str] = "measure"

    part: str
    attribute: str = LENGTH
    of: str
    nominal: float
    low: float
    high: float
    short_cost: float = 0.0
    long_cost: float = 0.0
    trimmed: bool = False
    when: tuple[Condition, ...] = ()
    limit: tuple[str, float, float] | None = None

    def words(self) -> list[str]:
        """Return the proportion, what is allowed, and what it costs to be off it."""
        name = self.attribute.removesuffix("_mm").replace("_", " ")
        unit = f" {self.of}" if self.attribute != "denier" else " denier"
        told = f"{self.part} {name}: right at {self.nominal:g}{unit}"
        words = [f"{told}, allowed {self.low:g} to {self.high:g}{unit}"]
        for cost, way in ((self.short_cost, "short of"), (self.long_cost, "beyond")):
            if cost:
                words.append(f"each tenth {way} what is right costs {cost:g}")
        if self.trimmed:
            words.append("the butts are cut, so that any longer fibre serves")
        return words

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The measure, and the hook's dimension."""
        own = {"shortest_mm", "longest_mm"} if self.attribute == LENGTH else {self.attribute}
        units = {self.of, self.limit[0]} if self.limit else {self.of}
        hook = {_HOOK_ATTRIBUTES[of] for of in units if of in _HOOK_ATTRIBUTES}
        reads = attributes_by_part(self.when)
        for part, names in ((self.part, own), ("hook", hook)):
            reads[part] = reads.get(part, frozenset()) | names
        return reads

    @property
    def may_cost(self) -> bool:
        """Whether a fly that the rule allows may depart by it."""
        return not self.is_hard or bool(self.short_cost or self.long_cost)

    @property
    def is_limit(self) -> bool:
        """Whether the rule only sets bounds, and calls no measure within them better."""
        return not (self.short_cost or self.long_cost)

    def unit_mm(self, hook: Attributes) -> float | None:
        """Return how many millimetres one unit of the rule is on a hook."""
        return _unit_mm(self.of, hook)

    def bounds_mm(self, hook: Attributes) -> tuple[float, float] | None:
        """Return what the rule allows on a hook; None where the hook's measure is not known."""
        unit_mm = self.unit_mm(hook)
        if unit_mm is None:
            return None
        low, high = self.low * unit_mm, self.high * unit_mm
        if self.limit is None:
            return low, high
        of, least, most = self.limit
        limit_mm = _unit_mm(of, hook)
        if limit_mm is None:
            return low, high
        return max(low, least * limit_mm), min(high, most * limit_mm)

    def with_nominal(self, of: str, nominal: float) -> Measure:
        """Return the rule with a dressing's own measure in place of the trade's.

        The tolerance keeps its proportion; a hard rule's own bounds hold beside it.
        """
        scale = nominal / self.nominal
        limit = (self.of, self.low, self.high) if self.is_hard else None
        low, high = self.low * scale, self.high * scale
        return replace(self, of=of, nominal=nominal, low=low, high=high, limit=limit)

    def judge(self, fly: Fly) -> Finding:
        """Compare what the material offers with what the hook asks."""
        if not is_there(fly, self.part) or not is_there(fly, "hook"):
            return SILENT
        if not all(condition.holds(fly) for condition in self.when):
            return SILENT
        unit_mm, bounds = self.unit_mm(fly["hook"]), self.bounds_mm(fly["hook"])
        offered = self._range_offered(fly[self.part])
        if unit_mm is None or bounds is None or offered is None:
            return SILENT
        target, (low, high) = self.nominal * unit_mm, bounds
        chosen = min(max(target, offered[0]), offered[1])
        unit = "denier" if self.attribute == "denier" else "mm"
        is_open = high == inf
        number = Number(
            f"{self.part} {self._word}",
            chosen,
            None if is_open else low,
            None if is_open else high,
            unit,
            target,
        )
        numbers = (number,)
        # A thousandth of slack: low and high are products of rounded table values.
        if not low * 0.999 <= chosen <= high * 1.001:
            return self.violation(numbers)
        tenths = 10.0 * (chosen - target) / target if target else 0.0
        cost = tenths * self.long_cost if tenths > 0 else -tenths * self.short_cost
        return Finding(True, True, round(cost * THOUSANDTHS), numbers)

    @property
    def _word(self) -> str:
        return self.attribute.removesuffix("_mm").replace("_", " ")

    def _range_offered(self, part: Attributes) -> tuple[float, float] | None:
        if self.attribute != LENGTH:
            value = part.get(self.attribute)
            return (float(value), float(value)) if isinstance(value, int | float) else None
        longest = part.get("longest_mm")
        shortest = 0.0 if self.trimmed else part.get("shortest_mm")
        if not isinstance(longest, int | float) or not isinstance(shortest, int | float):
            return None
        return float(shortest), float(longest)
