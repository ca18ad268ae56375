"""`pair`: a part that needs a matched left and right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there
from variants.rulebook.kinds.condition import Condition, attributes_by_part

SINGLE_SIDES = ("left", "right")


@dataclass(frozen=True, kw_only=True)
class Pair(Rule):
    """A left alone, or a right alone, does not make the part.

    Attributes
    ----------
    part : str
    when : tuple of Condition
        The materials that come in lefts and rights.
    """

    kind: ClassVar[str] = "pair"

    part: str
    when: tuple[Condition, ...] = ()

    def words(self) -> list[str]:
        """Return what has to match."""
        return [f"the {self.part} is a left and a right that match"]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The side, and what ``when`` looks at."""
        return attributes_by_part((Condition(self.part, "side"), *self.when))

    def judge(self, fly: Fly) -> Finding:
        """Break the rule on a single side."""
        if not is_there(fly, self.part) or not all(test.holds(fly) for test in self.when):
            return SILENT
        side = fly[self.part].get("side") or "pair"
        numbers = (Number(f"{self.part} side", str(side)),)
        if side in SINGLE_SIDES:
            return self.violation(numbers)
        return Finding(True, numbers=numbers)
