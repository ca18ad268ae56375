"""A style: how a fly is built and fished, and which parts it may have."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PartKind:
    """An entry of the parts table: a place on a fly, and what can serve there."""

    id: str
    name: str
    also: tuple[str, ...] = ()
    tying_order: int = 0
    functions: frozenset[str] = frozenset()
    says: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class StylePart:
    """A part that a style may have.

    Attributes
    ----------
    part : str
        Id of the part.
    weight : float
        How much a change here changes the fly; scales the departure.
    optional : bool
        Whether a fly of the style may go without it.
    says, source : str
    signature : frozenset of str
        Classes of stuff: a part that a dressing of the style makes of one of them makes the fly
        what it is.
    """

    part: str
    weight: float
    optional: bool
    says: str = ""
    source: str = ""
    signature: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Style:
    """How a fly is built and fished; its parts stand in tying order."""

    id: str
    name: str
    also: tuple[str, ...]
    says: str
    floats: bool
    parts: tuple[StylePart, ...]
    source: str = ""

    def part(self, part_id: str) -> StylePart | None:
        """Return the style's entry for a part, or None when it has no such part."""
        return next((part for part in self.parts if part.part == part_id), None)
