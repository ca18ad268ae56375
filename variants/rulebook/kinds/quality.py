"""`quality`: a property of a part's material must be in a range or a set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Rule
from variants.rulebook.kinds.condition import Condition

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
    A soft rule on a grade (0 to 4) costs its weight for each whole scale missed, so half the scale
    costs half the weight; on a word it costs the whole weight.
    """

    kind: ClassVar[str] = "quality"

    must: Condition
    when: tuple[Condition, ...] = ()

    @property
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
        return self.broken(numbers, self.must.shortfall(fly) / _GRADES if is_bounded else 1.0)


def attributes_by_part(conditions: tuple[Condition, ...]) -> dict[str, frozenset[str]]:
    """Return, for each part named in conditions, the attributes they look at."""
    reads: dict[str, frozenset[str]] = {}
    for condition in conditions:
        known = reads.get(condition.part, frozenset())
        reads[condition.part] = known | {condition.attribute}
    return reads
