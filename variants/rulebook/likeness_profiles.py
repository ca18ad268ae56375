"""What likeness is judged by: properties of stuff, kindred classes, role profiles, scales.

A profile says, for one kind of place on the fly, which properties matter and how much (0 not at
all, 4 most of all) and what the role needs whatever else agrees. Nothing here compares two
materials, and nothing reads a file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from variants.model import Material, Style

GRADE, ORDER, WORD, FLAG, LENGTH, RATIO = "grade", "order", "word", "flag", "length", "ratio"
MEASURES = (GRADE, ORDER, WORD, FLAG, LENGTH, RATIO)
#: Matters of a profile that are no property of a material.
CLASS, COLOUR, MARKING = "class", "colour", "marking"
SCALES = (
    "another",
    "published",
    "published_back",
    "published_fades",
    "published_kin",
    "published_kin_within",
    "unmet",
    "unusual",
    "same_kind",
    "shade",
    "shade_power",
    "dyed",
    "dye_it",
    "bleach",
    "mixed",
    "many_colours",
    "alike",
    "alike_by",
    "alike_marks",
)
MOST = 4

#: How each property is told by the material's own record.
FIELDS = {
    "stiffness": "stiffness",
    "water": "water",
    "texture": "texture",
    "sheen": "sheen",
    "durability": "durability",
    "translucency": "translucency",
    "web": "web",
    "hollow": "hollow",
    "fibre": "fibre_mm",
    "thickness": "thickness_mm",
    "density": "density_g_cm3",
}
PropertyValue = str | int | float | bool | tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Property:
    """One property of materials, and how a difference in it is measured and told.

    Attributes
    ----------
    id, measure : str
    less, more : str
        What is said when the stand-in has less, or more, of it.
    less_costs, more_costs : float
        How much of the difference counts in that direction: what does no harm costs little.
    span : float
        Of a length or ratio, the doublings that make the whole difference.
    order : tuple of str
        Of an ordered word, its values from least to most.
    pairs : mapping
        Of a word, the distance 0 to 1 of two values; pairs not stated are 1 apart.
    unstated : int, bool or None
        What an empty cell means: stuff that is no feather has no web.
    source : str
    """

    id: str
    measure: str
    less: str
    more: str
    less_costs: float = 1.0
    more_costs: float = 1.0
    span: float = 1.0
    order: tuple[str, ...] = ()
    pairs: Mapping[tuple[str, str], float] = field(default_factory=dict)
    unstated: int | bool | None = None
    source: str = ""

    def of(self, material: Material) -> PropertyValue:
        """Return the material's value; None when no table states it and nothing follows."""
        value: PropertyValue = getattr(material, FIELDS[self.id])
        return self.unstated if value is None else value


@dataclass(frozen=True, slots=True)
class Need:
    """What a role asks of anything that serves in it.

    A need speaks only when the material asked for meets it: a dressing that does without has its
    reason in another part.
    """

    property: str
    says: str
    source: str
    at_least: float | None = None
    at_most: float | None = None
    among: tuple[str, ...] = ()

    def is_met(self, value: PropertyValue) -> bool:
        """Tell whether a value meets the need; a value that is not known does."""
        if value is None:
            return True
        if isinstance(value, tuple):
            value = value[1]
        if isinstance(value, bool):
            value = "y" if value else "n"
        if isinstance(value, str):
            return not self.among or value in self.among
        return (self.at_least is None or value >= self.at_least) and (
            self.at_most is None or value <= self.at_most
        )


@dataclass(frozen=True, slots=True)
class Profile:
    """One kind of place on the fly, and what matters there.

    Attributes
    ----------
    id, says, source : str
    parts, styles, classes : frozenset of str
        Parts and styles it speaks of, and classes of the material asked for; empty for all.
    floats : bool or None
        Whether it speaks of floating or of sinking styles; None for both.
    matters : mapping of str to int
        Property id, ``class``, ``colour`` or ``marking`` to importance 0 to 4.
    needs : tuple of Need
    closed : bool
        Whether nothing serves here but stuff whose own row says so.
    """

    id: str
    says: str
    source: str
    parts: frozenset[str]
    styles: frozenset[str]
    classes: frozenset[str]
    floats: bool | None
    matters: Mapping[str, int]
    needs: tuple[Need, ...] = ()
    closed: bool = False

    def suits(self, part: str, style: Style | None, kind: str) -> bool:
        """Tell whether it speaks of this place, asked for stuff of this class."""
        floats = bool(style and style.floats)
        return (
            (not self.parts or part in self.parts)
            and (not self.styles or (style is not None and style.id in self.styles))
            and (not self.classes or kind in self.classes)
            and (self.floats is None or self.floats is floats)
        )

    @property
    def closeness(self) -> tuple[bool, bool, bool, bool]:
        """How particular it is: the class weighs first, then the part, then the style."""
        return bool(self.classes), bool(self.parts), bool(self.styles), self.floats is not None


@dataclass(frozen=True, slots=True)
class RestrictionCost:
    """What a material's restriction by law costs a stand-in that would have to be bought."""

    id: str
    cost: int
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class SameStuff:
    """One stuff that has two rows in the tables: a name for it in one colour, or a second name.

    Attributes
    ----------
    material, of : str
        Ids: the particular name, and the stuff that it is.
    colour : str or None
        Id of the colour of that stuff which the name tells; None where it holds of every colour.
    says, source : str
    """

    material: str
    of: str
    colour: str | None
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class LikenessTables:
    """All of ``rules/likeness/``."""

    properties: Mapping[str, Property]
    kindred: Mapping[tuple[str, str], float]
    profiles: Mapping[str, Profile]
    scales: Mapping[str, float]
    scale_sources: Mapping[str, str]
    cautions: Mapping[str, RestrictionCost]
    same: tuple[SameStuff, ...] = ()

    def profile(self, part: str, style: Style | None, kind: str) -> Profile:
        """Return the most particular profile that speaks of a place; the first of equals."""
        return max(
            (one for one in self.profiles.values() if one.suits(part, style, kind)),
            key=lambda one: one.closeness,
        )

    def classes_apart(self, one: str, other: str) -> float:
        """Return how far two classes of stuff stand apart, 0 to 1."""
        return 0.0 if one == other else self.kindred.get((one, other), 1.0)

    def caution(self, material: Material) -> RestrictionCost | None:
        """Return which caution a material's restriction calls for; none costs nothing."""
        return next((one for one in self.cautions.values() if one.id == material.restriction), None)
