"""`equal`: one feather that stands for two wound together, and the other way round."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from variants.model import Fly
from variants.rulebook.kinds.base import SILENT, Finding, Rule
from variants.rulebook.kinds.condition import join_sorted


@dataclass(frozen=True, kw_only=True)
class Equal(Rule):
    """Colours mixed on one part, and the single one that does their work.

    Attributes
    ----------
    part : str
    mixed : frozenset of str
        Colour ids wound or blended together.
    single : frozenset of str
        Colour ids that each stand for the mix.
    cost : float
        Departure of the exchange.
    difference : str
        The difference it makes, in trade words.
    both_ways : bool
        Whether the mix may also stand for the single colour.

    Notes
    -----
    The rule forbids nothing; it widens what may fill a part.
    """

    kind: ClassVar[str] = "equal"

    part: str
    mixed: frozenset[str]
    single: frozenset[str]
    cost: float
    difference: str
    both_ways: bool = True

    @property
    def weight_words(self) -> str:
        """What the exchange costs, in words."""
        return f"taking one for the other costs {self.cost:g}, times the part's weight"

    def words(self) -> list[str]:
        """Return what stands for what."""
        mixed, single = join_sorted(self.mixed, " with "), join_sorted(self.single, " or ")
        back = ", and the other way round" if self.both_ways else ""
        return [f"{self.part}: {single} for {mixed}{back}; {self.difference}"]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """Nothing: the rule tests no fly."""
        return {self.part: frozenset()}

    def judge(self, fly: Fly) -> Finding:
        """Say nothing of any fly."""
        return SILENT
