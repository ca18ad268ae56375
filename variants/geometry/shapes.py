"""The shapes that a fly laid out is made of, in millimetres."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from variants.geometry.solids import Cone
from variants.model import PartKind

#: What the layout adds of itself, such as thread on the bare shank: built, and no part of a fly.
NO_PART = PartKind("", "", form="body")


@dataclass(frozen=True, slots=True)
class HookShape:
    """The hook's dimensions in mm, and its shape in the trade's words."""

    size: int
    gape_mm: float
    shank_mm: float
    wire_mm: float
    eye_mm: float
    eye: str = "down"
    bend: str = "round"
    is_barbed: bool = True


@dataclass(frozen=True, slots=True)
class PartShape:
    """One part on the hook.

    Attributes
    ----------
    part : str
    rear_mm, front_mm : float
        From the bend forward along the shank.
    angle_deg : float
        To the shank: 0 straight back, 90 upright.
    length_mm : float or None
        Of fibres, barbs or slips; None for what is only wound.
    low_mm, high_mm, right_mm : float or None
        What the rule allows, and what would be right.
    rule : str
        Id of the rule that the length comes from; empty for the layout's own.
    counts : mapping of str to int
        Turns, fibres and the like.
    cone : Cone or None
        The body it makes, or that it is wound over.
    strand_mm : float or None
        Thickness of what is wound.
    kind : PartKind
        What the part is; none of the tables' for what the layout adds of itself.
    """

    part: str
    rear_mm: float
    front_mm: float
    angle_deg: float
    length_mm: float | None = None
    low_mm: float | None = None
    high_mm: float | None = None
    right_mm: float | None = None
    rule: str = ""
    counts: Mapping[str, int] = field(default_factory=dict)
    cone: Cone | None = None
    strand_mm: float | None = None
    kind: PartKind = NO_PART


@dataclass(frozen=True, slots=True)
class FlyGeometry:
    """A whole fly.

    Attributes
    ----------
    style : str
    hook : HookShape
    thread_mm : float
        Diameter of the tying thread.
    core_mm : float
        Diameter of the wire under its thread.
    parts : mapping of part id to PartShape
        In tying order; the hook and the thread are not among them.
    kin : tuple of str
        Ids of the styles that the style is like.
    """

    style: str
    hook: HookShape
    thread_mm: float
    core_mm: float
    parts: Mapping[str, PartShape]
    kin: tuple[str, ...] = ()

    @property
    def styles(self) -> tuple[str, ...]:
        """The style and those that it is like."""
        return (self.style, *self.kin)

    def of_form(self, *forms: str) -> list[PartShape]:
        """Return the parts of some forms, in tying order."""
        return [shape for shape in self.parts.values() if shape.kind.form in forms]
