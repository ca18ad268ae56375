"""`count`: turns, fibres and feathers, by style and water."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import ClassVar

from variants.model import Attributes, Fly
from variants.rulebook.kinds.base import SILENT, THOUSANDTHS, Finding, Number, Rule, is_there
from variants.rulebook.kinds.condition import Condition, attributes_by_part

#: The water meant when nobody names one: the dressing as the books give it.
USUAL_WATER = "medium"
_STIFFEST = 4.0
#: Below this grade more turns no longer help: the barbs fold (common practice).
_SOFTEST = 2.0


@dataclass(frozen=True, kw_only=True)
class Count(Rule):
    """How many turns, fibres or feathers a part takes.

    Attributes
    ----------
    part, count : str
        Such as ``hackle`` and ``turns``.
    bounds : mapping of water to (low, high)
    stiffness_scales : bool
        Whether a softer material needs more: bounds hold for stiffness 4 and grow as it falls.
    each_piece : float or None
        How many of these one feather gives; the number of feathers follows.
    when : tuple of Condition
        The rule speaks only when all of these hold.
    change_cost : float
        Departure for each tenth by which the count must leave the dressing's own.
    """

    kind: ClassVar[str] = "count"
    may_be_waived: ClassVar[bool] = False

    part: str
    count: str
    bounds: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    stiffness_scales: bool = False
    each_piece: float | None = None
    change_cost: float = 0.0
    when: tuple[Condition, ...] = ()
    water: str = USUAL_WATER

    def words(self) -> list[str]:
        """Return the counts by water, and what moves them."""
        counts = [f"{water} {low} to {high}" for water, (low, high) in self.bounds.items()]
        words = [f"{self.part} {self.count.replace('_', ' ')} by water: {', '.join(counts)}"]
        if self.stiffness_scales:
            words.append("softer stuff takes more: the counts hold for stiffness 4")
        if self.each_piece:
            words.append(f"one feather gives {self.each_piece:g}")
        if self.change_cost:
            cost = self.change_cost
            words.append(f"each tenth away from the dressing's own count costs {cost:g}")
        return words

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The count, what the dressing asked, and the stiffness."""
        own = {self.count, f"{self.count}_asked"}
        if self.stiffness_scales:
            own.add("stiffness")
        reads = attributes_by_part(self.when)
        reads[self.part] = reads.get(self.part, frozenset()) | own
        return reads

    @property
    def may_cost(self) -> bool:
        """Whether a fly that the rule allows may depart by it."""
        return not self.is_hard or bool(self.change_cost)

    def range_for(self, part: Attributes, water: str) -> tuple[int, int]:
        """Return the bounds for a material on a water."""
        low, high = self.bounds.get(water) or self.bounds[USUAL_WATER]
        stiffness = part.get("stiffness")
        if self.stiffness_scales and isinstance(stiffness, int | float):
            scale = _STIFFEST / max(stiffness, _SOFTEST)
            return round(low * scale), round(high * scale)
        return low, high

    def speaks_of(self, fly: Fly) -> bool:
        """Whether every condition in ``when`` holds."""
        return all(condition.holds(fly) for condition in self.when)

    def choose(self, part: Attributes, written: Attributes, asked: int | None) -> tuple[int, int]:
        """Return the count to tie, and the one the dressing asks or implies.

        A dressing that states none means the middle of the usual water's range, as near to it as
        the material it writes allows.
        """
        wanted = asked if asked is not None else self._implied_count(written)
        low, high = self.range_for(part, self.water)
        return min(max(wanted, low), high), wanted

    def with_count(self, count: int) -> Count:
        """Return the rule with a dressing's own count in place of the trade's, on any water.

        How many of these a feather gives stays as it is.
        """
        return replace(self, bounds={USUAL_WATER: (count, count)}, stiffness_scales=False)

    def _implied_count(self, written: Attributes) -> int:
        usual = self.bounds[USUAL_WATER]
        low, high = self.range_for(written, USUAL_WATER)
        return min(max((usual[0] + usual[1] + 1) // 2, low), high)

    def pieces(self, count: int) -> int:
        """Return how many feathers the count takes."""
        return math.ceil(count / self.each_piece) if self.each_piece else 1

    def judge(self, fly: Fly) -> Finding:
        """Compare the count with its bounds, and with the dressing's own."""
        if not is_there(fly, self.part) or not self.speaks_of(fly):
            return SILENT
        part = fly[self.part]
        value, asked = part.get(self.count), part.get(f"{self.count}_asked")
        if not isinstance(value, int | float):
            return SILENT
        low, high = self.range_for(part, self.water)
        wanted = float(asked) if isinstance(asked, int | float) else None
        name = f"{self.part} {self.count.replace('_', ' ')}"
        numbers = (Number(name, value, low, high, "", wanted),)
        if not low <= value <= high:
            return self.violation(numbers)
        tenths = abs(value - wanted) / wanted * 10 if wanted else 0.0
        return Finding(True, True, round(self.change_cost * tenths * THOUSANDTHS), numbers)
