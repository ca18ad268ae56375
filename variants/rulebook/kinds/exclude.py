"""`exclude`: properties that must not meet on one fly."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Rule
from variants.rulebook.kinds.condition import Condition, attributes_by_part


@dataclass(frozen=True, kw_only=True)
class Exclude(Rule):
    """Not all of these may hold together.

    Attributes
    ----------
    meet : tuple of Condition
        One part alone, or several.
    """

    kind: ClassVar[str] = "exclude"

    meet: tuple[Condition, ...]

    def words(self) -> list[str]:
        """Return what must not meet."""
        return [f"never together: {'; '.join(one.words for one in self.meet)}"]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """What the conditions look at."""
        return attributes_by_part(self.meet)

    def judge(self, fly: Fly) -> Finding:
        """Break the rule when every condition holds."""
        if not all(condition.is_known(fly) for condition in self.meet):
            return SILENT
        numbers = tuple(condition.number(fly) for condition in self.meet)
        if all(condition.holds(fly) for condition in self.meet):
            return self.violation(numbers)
        return Finding(True, numbers=numbers)
