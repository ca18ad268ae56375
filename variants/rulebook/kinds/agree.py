"""`agree`: two parts go together in colour, marking, material, tone or measure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Attributes, Fly
from variants.rulebook.colours import delta_e
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, attribute_words, is_there
from variants.rulebook.kinds.condition import Condition, attributes_by_part

#: The attribute that is compared by CIEDE2000 rather than by equality.
SHADE = "shade"


@dataclass(frozen=True, kw_only=True)
class Agree(Rule):
    """Two parts agree on an attribute.

    Attributes
    ----------
    first, second : str
        The two parts.
    attribute : str
        Words must be the same; numbers may differ by ``within``; ``shade`` by a CIEDE2000 of
        ``within``.
    within : float
        Difference that is free.
    scale : float
        Difference beyond ``within`` at which a soft rule costs its whole weight.
    when : tuple of Condition
    """

    kind: ClassVar[str] = "agree"

    first: str
    second: str
    attribute: str
    within: float = 0.0
    scale: float = 1.0
    when: tuple[Condition, ...] = ()

    def words(self) -> list[str]:
        """Return how near the two parts have to be."""
        both = f"{self.first} and {self.second}"
        if self.attribute == SHADE:
            words = f"{both} are within {self.within:g} of a shade (CIEDE2000)"
        elif self.within:
            words = f"{both} differ in {self.attribute} by {self.within:g} at most"
        else:
            words = f"{both} are alike in {self.attribute}"
        if self.is_hard:
            return [words]
        return [f"{words}; {self.scale:g} beyond that costs the whole weight"]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The attribute on both parts, and those in ``when``."""
        both = (Condition(self.first, self.attribute), Condition(self.second, self.attribute))
        return attributes_by_part((*both, *self.when))

    def judge(self, fly: Fly) -> Finding:
        """Compare the two parts."""
        if not is_there(fly, self.first) or not is_there(fly, self.second):
            return SILENT
        if not all(condition.holds(fly) for condition in self.when):
            return SILENT
        difference = self._difference(fly[self.first], fly[self.second])
        if difference is None:
            return SILENT
        numbers = self._numbers(fly, difference)
        beyond = difference - self.within
        if beyond <= 0:
            return Finding(True, numbers=numbers)
        return self.violation(numbers, min(1.0, beyond / self.scale))

    def _difference(self, first: Attributes, second: Attributes) -> float | None:
        one, other = first.get(self.attribute), second.get(self.attribute)
        if one is None or other is None:
            return None
        if self.attribute == SHADE:
            return delta_e(str(one), str(other))
        if isinstance(one, int | float) and isinstance(other, int | float):
            return abs(float(one) - float(other))
        return 0.0 if one == other else self.within + self.scale

    def _numbers(self, fly: Fly, difference: float) -> tuple[Number, ...]:
        one, other = fly[self.first][self.attribute], fly[self.second][self.attribute]
        if self.attribute == SHADE:
            return (Number("difference of shade (CIEDE2000)", difference, None, self.within),)
        words, unit = attribute_words(self.attribute)
        return (
            Number(f"{self.first} {words}", _shown(one), unit=unit),
            Number(f"{self.second} {words}", _shown(other), unit=unit),
        )


def _shown(value: object) -> float | str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    return ", ".join(sorted(value)) if isinstance(value, frozenset) else str(value)
