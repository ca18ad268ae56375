"""A condition on one attribute of one part: the words in which rules speak of properties."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from variants.model import Attributes, Fly, Value
from variants.rulebook.kinds.base import Number, attribute_words, is_there


@dataclass(frozen=True, slots=True)
class Condition:
    """A test of one attribute.

    Attributes
    ----------
    part, attribute : str
    among, not_among : frozenset of str
        Words the value must, or must not, be (or, for a set of words, share).
    at_least, at_most : float or None
        Bounds of a number or grade.
    flag : bool or None
        The truth a yes-or-no attribute must have.
    """

    part: str
    attribute: str
    among: frozenset[str] = frozenset()
    not_among: frozenset[str] = frozenset()
    at_least: float | None = None
    at_most: float | None = None
    flag: bool | None = None

    def value(self, fly: Fly) -> Value:
        """Return the attribute's value on a fly; None when it is not known."""
        attributes: Attributes = fly.get(self.part) or {}
        return attributes.get(self.attribute)

    @property
    def words(self) -> str:
        """The condition as a sentence without ornaments: ``hackle stiffness is at least 3``."""
        tests = []
        if self.among:
            tests.append(f"is {join_sorted(self.among, ' or ')}")
        if self.not_among:
            tests.append(f"is not {join_sorted(self.not_among, ' or ')}")
        if self.at_least is not None:
            tests.append(f"is at least {self.at_least:g}")
        if self.at_most is not None:
            tests.append(f"is at most {self.at_most:g}")
        if self.flag is not None:
            tests.append(f"is {'yes' if self.flag else 'no'}")
        return f"{self.part} {self.attribute.replace('_', ' ')} {' and '.join(tests) or 'is known'}"

    def is_known(self, fly: Fly) -> bool:
        """Whether the fly has the part and states the attribute."""
        return is_there(fly, self.part) and self.value(fly) is not None

    def holds(self, fly: Fly) -> bool:
        """Whether the attribute is known and meets the condition."""
        value = self.value(fly)
        if value is None:
            return False
        if isinstance(value, bool):
            return self.flag is None or value is self.flag
        if isinstance(value, int | float):
            return (self.at_least is None or value >= self.at_least) and (
                self.at_most is None or value <= self.at_most
            )
        words = value if isinstance(value, frozenset) else frozenset((value,))
        return (not self.among or bool(words & self.among)) and not words & self.not_among

    def shortfall(self, fly: Fly) -> float:
        """Return how far a number misses its bounds; 1 for a word that does not fit."""
        value = self.value(fly)
        if isinstance(value, bool) or not isinstance(value, int | float):
            return 1.0
        if self.at_least is not None and value < self.at_least:
            return self.at_least - value
        if self.at_most is not None and value > self.at_most:
            return value - self.at_most
        return 0.0

    def number(self, fly: Fly) -> Number:
        """Return the tested value with its bounds, for explanations."""
        value = self.value(fly)
        if isinstance(value, frozenset):
            value = ", ".join(sorted(value))
        elif isinstance(value, bool):
            value = "yes" if value else "no"
        elif value is None:
            value = "not known"
        words, unit = attribute_words(self.attribute)
        return Number(f"{self.part} {words}", value, self.at_least, self.at_most, unit)


def join_sorted(words: Iterable[str], joint: str) -> str:
    """Return words in the order of the alphabet with a joint between them."""
    return joint.join(sorted(words))


def attributes_by_part(conditions: Iterable[Condition]) -> dict[str, frozenset[str]]:
    """Return, for each part named in conditions, the attributes they look at."""
    reads: dict[str, frozenset[str]] = {}
    for condition in conditions:
        known = reads.get(condition.part, frozenset())
        reads[condition.part] = known | {condition.attribute}
    return reads
