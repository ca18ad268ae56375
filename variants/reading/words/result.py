"""What reading a dressing from plain words yields: the dressing, the doubts, what stayed dark."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from variants.model import Dressing, Ingredient, Material, Part
from variants.text import did_you_mean

if TYPE_CHECKING:
    from pint import Quantity

#: A part with words that were not understood is trusted half as far.
_DARK = 0.5


@dataclass(frozen=True, slots=True)
class Inference:
    """Something that the words do not say and that was filled in.

    Attributes
    ----------
    what : str
        ``material``, ``colour``, ``sizes`` or ``list``.
    says : str
        Why this and nothing else.
    source : str
    sure : float
        0 to 1.
    """

    what: str
    says: str
    source: str
    sure: float


@dataclass(frozen=True, slots=True)
class Unread:
    """Words that were not understood, where they stand, and why."""

    line: int
    field: str
    words: str
    why: str
    near: tuple[str, ...] = ()

    def __str__(self) -> str:
        hint = did_you_mean(self.near)
        return f"{self.why} ({hint})" if hint else self.why


@dataclass(frozen=True, slots=True)
class Other:
    """Another stuff that words may mean, and how sure that is, 0 to 1."""

    material: Material
    sure: float


@dataclass(frozen=True, slots=True)
class ReadIngredient:
    """A material and colour, the words they come from, what was filled in, and other readings."""

    ingredient: Ingredient
    words: str
    inferences: tuple[Inference, ...] = ()
    names_colour: bool = True
    others: tuple[Other, ...] = ()

    @property
    def confidence(self) -> float:
        """0 to 1; 1 when the words name material and colour outright."""
        confidence = 1.0
        for inference in self.inferences:
            confidence *= inference.sure
        return confidence


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the ways that the author leaves open; no ingredient means the part is left out."""

    ingredients: tuple[ReadIngredient, ...]

    @property
    def is_left_out(self) -> bool:
        """Whether this choice does without the part."""
        return not self.ingredients

    @property
    def confidence(self) -> float:
        """That of the least certain ingredient."""
        return min((found.confidence for found in self.ingredients), default=1.0)


@dataclass(frozen=True, slots=True)
class PartReading:
    """One part as it was read.

    Attributes
    ----------
    part : str
        Id of the part.
    words : str
        What the author wrote.
    line : int
    choices : tuple of Choice
        The author's alternatives; the first is the one taken.
    length, thickness : pint.Quantity or None
    counts : mapping of str to int
    remarks : tuple of str
        Words kept that are no material or colour: long, short, spent.
    has_unread : bool
        Whether some of the words were not understood.
    """

    part: str
    words: str
    line: int
    choices: tuple[Choice, ...]
    length: Quantity[float] | None = None
    thickness: Quantity[float] | None = None
    counts: Mapping[str, int] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()
    has_unread: bool = False

    @property
    def confidence(self) -> float:
        """0 to 1, for the first choice."""
        return self.choices[0].confidence * (_DARK if self.has_unread else 1.0)

    def as_part(self, signed: Container[str] = ()) -> Part | None:
        """Return the part of a dressing; the words stay in its note.

        The first choice that names any stuff is the part as written, the others its alternatives;
        None where the author names none. Made of a class of stuff that is ``signed`` it makes the
        fly what it is.
        """
        made_of = dict.fromkeys(
            tuple(found.ingredient for found in choice.ingredients) for choice in self.choices
        )
        first = next(filter(None, made_of), ())
        if not first:
            return None
        return Part(
            id=self.part,
            ingredients=first,
            length=self.length,
            thickness=self.thickness,
            counts=self.counts,
            signature=any(one.material.kind in signed for one in first),
            alternatives=tuple(one for one in made_of if one != first),
            note=f"written: {self.words.strip()}" if self.words.strip() else "",
        )


@dataclass(frozen=True, slots=True)
class Reading:
    """One dressing read from plain words.

    Attributes
    ----------
    dressing : Dressing or None
        With the author's alternatives in its parts; None when it lacks what a dressing must have.
    name : str
    line : int
        Where it begins.
    parts : tuple of PartReading
    unread : tuple of Unread
    unstated : tuple of (str, int)
        Parts given as "none", with their lines: not used, or not known to the author.
    inferences : tuple of Inference
        What was filled in for the dressing as a whole: hook sizes, the style.
    sizes : tuple of int
        Hook sizes as they are told, in whatever range; 0 is 1/0, -1 is 2/0.
    remarks : tuple of (int, str)
        Lines that tell nothing of what the fly is made of, set aside, with their numbers.
    """

    dressing: Dressing | None
    name: str
    line: int
    parts: tuple[PartReading, ...]
    unread: tuple[Unread, ...] = ()
    unstated: tuple[tuple[str, int], ...] = ()
    inferences: tuple[Inference, ...] = ()
    sizes: tuple[int, ...] = ()
    remarks: tuple[tuple[int, str], ...] = ()

    @property
    def confidence(self) -> float:
        """That of the least certain part; 0 when there is no dressing."""
        if self.dressing is None:
            return 0.0
        return min((part.confidence for part in self.parts), default=0.0)
