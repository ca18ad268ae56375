"""`quality`: a property of a part's material must be in a range or a set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Rule
from variants.rulebook.kinds.condition import Condition, attributes_by_part

_GRADES = 4.0


@dataclass(frozen=True, kw_only=True)
class Quality(Rule):
    """A part's material has a property.

    Attributes
    ----------
    must : Condition
    when : tuple of Condition
        The rule speaks only when all of these hold.

    Notes
    -----
    A soft rule on a grade (0 to 4) costs its weight for a whole scale missed, half of it for half
    the scale; never more than its weight. On a word it costs the whole weight.
    """

    kind: ClassVar[str] = "quality"

    must: Condition
    when: tuple[Condition, ...] = ()

    def words(self) -> list[str]:
        """Return the property that the material must have."""
        return [self.must.words]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The property, and those in ``when``."""
        return attributes_by_part((self.must, *self.when))

    def judge(self, fly: Fly) -> Finding:
        """Test the property where it is known."""
        if not self.must.is_known(fly) or not all(test.holds(fly) for test in self.when):
            return SILENT
        numbers = (self.must.number(fly),)
        if self.must.holds(fly):
            return Finding(True, numbers=numbers)
        is_bounded = self.must.at_least is not None or self.must.at_most is not None
        share = self.must.shortfall(fly) / _GRADES if is_bounded else 1.0
        return self.violation(numbers, min(1.0, share))
