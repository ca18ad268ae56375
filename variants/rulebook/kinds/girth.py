"""`girth`: how thick is what is built round the shank, against the hook's gape."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import ClassVar

from variants.model import Build, Fly
from variants.rulebook.kinds.base import SILENT, Finding, Number, Rule, is_there
from variants.rulebook.kinds.condition import Condition, attributes_by_part


@dataclass(frozen=True, kw_only=True)
class Girth(Rule):
    """What is built round the shank is no thicker across than a share of the gape.

    Attributes
    ----------
    over : tuple of str
        Ids of the parts that lie on each other round the shank.
    at_most : float
        The greatest diameter, in gapes.
    when : tuple of Condition
        The rule speaks only when all of these hold.
    builds : mapping of class to Build
        How stuff is built up: the diameter is the hook's wire and every strand twice, as a fly is
        laid out; dubbed and spun stuff is made as thick as it is usual, whatever lies under it.

    Notes
    -----
    The tying thread under it all is left out: two layers of it are a hundredth of a gape.
    """

    kind: ClassVar[str] = "girth"
    only_grows: ClassVar[bool] = True

    over: tuple[str, ...]
    at_most: float
    when: tuple[Condition, ...] = ()
    builds: Mapping[str, Build] = field(default_factory=dict, compare=False, repr=False)

    def words(self) -> list[str]:
        """Return the greatest diameter."""
        over = ", ".join(self.over)
        return [f"{over} on the hook's wire are at most {self.at_most:g} gapes across"]

    @cached_property
    def reads(self) -> Mapping[str, frozenset[str]]:
        """Class and thickness of every part, and the hook's wire and gape."""
        reads = attributes_by_part(self.when)
        for part in self.over:
            reads[part] = reads.get(part, frozenset()) | {"class", "thickness_mm"}
        reads["hook"] = reads.get("hook", frozenset()) | {"gape_mm", "wire_mm"}
        return reads

    def diameter_mm(self, fly: Fly, gape_mm: float, wire_mm: float) -> float:
        """Return how thick across the parts are that a fly has of these; never less with more."""
        across, fullest = wire_mm, 0.0
        for part in self.over:
            attributes = fly.get(part) or {}
            build = self.builds.get(str(attributes.get("class")))
            if build is None:
                continue
            if build.gapes is not None:
                fullest = max(fullest, build.gapes * gape_mm)
            if build.gapes is None or build.build == "wound":
                strand = attributes.get("thickness_mm")
                across += build.added_mm(strand if isinstance(strand, int | float) else None)
        return max(across, fullest)

    def judge(self, fly: Fly) -> Finding:
        """Reckon the diameter and compare."""
        hook = fly.get("hook") or {}
        gape, wire = hook.get("gape_mm"), hook.get("wire_mm")
        if not all(condition.holds(fly) for condition in self.when) or not any(
            is_there(fly, part) for part in self.over
        ):
            return SILENT
        if not isinstance(gape, int | float) or not isinstance(wire, int | float):
            return SILENT
        across, bound = self.diameter_mm(fly, gape, wire), self.at_most * gape
        numbers = (Number(f"{' and '.join(self.over)} across", across, None, bound, "mm"),)
        if across <= bound * 1.000001:
            return Finding(True, numbers=numbers)
        return self.violation(numbers, min(1.0, (across - bound) / bound))
