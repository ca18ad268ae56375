"""`order`: what is tied before what, and which part needs another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there
from variants.rulebook.kinds.condition import Condition, attributes_by_part


@dataclass(frozen=True, kw_only=True)
class Order(Rule):
    """A part needs another one, or is tied before it.

    Attributes
    ----------
    part : str
    when : tuple of Condition
        The rule speaks only when all of these hold.
    needs : tuple of str
        Ids of parts, one of which must be there.
    before : tuple of str
        Ids of parts that are tied after this one.
    """

    kind: ClassVar[str] = "order"

    part: str
    when: tuple[Condition, ...] = ()
    needs: tuple[str, ...] = ()
    before: tuple[str, ...] = ()

    def words(self) -> list[str]:
        """Return what the part needs, and what it comes before."""
        needs = [f"a {self.part} needs a {other}" for other in self.needs]
        return needs + [f"the {self.part} is tied before the {one}" for one in self.before]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """Presence and tying position."""
        others = (*self.needs, *self.before)
        position = (Condition(self.part, "tied"), *(Condition(other, "tied") for other in others))
        return attributes_by_part((*position, *self.when))

    def judge(self, fly: Fly) -> Finding:
        """Look for a needed part, then at the order."""
        if not is_there(fly, self.part) or not all(test.holds(fly) for test in self.when):
            return SILENT
        if self.needs and not any(is_there(fly, other) for other in self.needs):
            wanting = Number(f"{' or '.join(self.needs)} with the {self.part}", "none")
            return self.violation((wanting,))
        own = fly[self.part].get("tied")
        for other in self.before:
            theirs = (fly.get(other) or {}).get("tied")
            if isinstance(own, int) and isinstance(theirs, int) and theirs < own:
                return self.violation((Number(f"{self.part} is tied after the {other}", own),))
        return Finding(True)
