"""`lawful`: what law or the water's owner says of a material or a hook; it forbids or warns.

A rule of this kind is no rule of the craft: a dressing that breaks it is not excused, however old
it is, and what is not known is told as unknown, never as allowed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import ClassVar

from variants.model import STATUSES, Attributes, Fly
from variants.rulebook.colours import TOGETHER
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there
from variants.rulebook.kinds.condition import Condition, join_sorted

FORBIDDEN_BY_LAW = STATUSES[0]
#: What law that says this asks of a fly: nothing.
_ASKS_NOTHING = ("silent", "allowed")


@dataclass(frozen=True, kw_only=True)
class Lawful(Rule):
    """The status of materials, or of what conditions tell, on a water or in a jurisdiction.

    Attributes
    ----------
    status : str
        One of `STATUSES`. A rule without a weight rules a fly out where it is ``forbidden`` and
        warns of the others; one with a weight costs it.
    materials : frozenset of str
        Ids of materials it speaks of; empty where ``when`` alone tells.
    when : tuple of Condition
        All must hold, each on its own part.
    on : tuple of str
        Parts it looks at; empty for every part of a fly (see `on_each`).
    spared : frozenset of str
        Ids of those that cost nothing, because the dressing asks for them.
    statute, section, known : str
        Where it is written, and the date of the text; empty for a rule of the water.
    place : str
        Where it holds.
    """

    kind: ClassVar[str] = "lawful"
    may_be_waived: ClassVar[bool] = False

    status: str
    materials: frozenset[str] = frozenset()
    when: tuple[Condition, ...] = ()
    on: tuple[str, ...] = ()
    spared: frozenset[str] = frozenset()
    statute: str = ""
    section: str = ""
    known: str = ""
    place: str = ""

    def words(self) -> list[str]:
        """Return what is said of what, and where it is written."""
        words = [self.status]
        if self.materials:
            words.append(f"of {join_sorted(self.materials, ', ')}")
        if self.materials and self.on:
            words.append(f"as {join_sorted(self.on, ' or ')}")
        if self.statute:
            words.append(f"by {', '.join(filter(None, (self.statute, self.section)))}")
        return [" ".join(words)]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """The material of each part, and what the conditions look at there."""
        return {
            part: frozenset(one.attribute for one in self.when if one.part in (part, ""))
            | {"material"}
            for part in self.on
        }

    def on_each(self, parts: Iterable[str]) -> tuple[Lawful, ...]:
        """Return the rule once for each part it looks at, so that parts stay apart in a search."""
        return tuple(replace(self, on=(part,)) for part in parts if not self.on or part in self.on)

    def judge(self, fly: Fly) -> Finding:
        """Tell whether the rule speaks of any part, and what it says then."""
        told = [
            number
            for part in self.on or tuple(fly)
            if is_there(fly, part)
            for number in self._list_restrictions(part, fly[part])
        ]
        if not told or self.status in _ASKS_NOTHING:
            return SILENT
        numbers = (*told, Number("status", self.status))
        if self.weight is not None and all(one.value in self.spared for one in told):
            return Finding(True, numbers=numbers)
        if self.status == FORBIDDEN_BY_LAW or self.weight is not None:
            return self.violation(numbers)
        return Finding(True, numbers=numbers)

    def _list_restrictions(self, part: str, attributes: Attributes) -> list[Number]:
        """Return what of a part the rule speaks about."""
        own = {part: attributes}
        conditions = [replace(one, part=part) for one in self.when if one.part in (part, "")]
        if len(conditions) < len(self.when) or not all(one.holds(own) for one in conditions):
            return []
        if not self.materials:
            return [one.number(own) for one in conditions]
        made_of = str(attributes.get("material") or "").split(TOGETHER)
        found = [name for name in made_of if name in self.materials]
        return [Number(f"{part} material", name) for name in found]
