"""A dressing: the recipe of a fly, part by part, as its author gave it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import islice, product
from typing import TYPE_CHECKING

from variants.model.colour import Colour
from variants.model.material import Material
from variants.model.origin import NOWHERE, Origin

if TYPE_CHECKING:
    from pint import Quantity


#: More things than anybody winds, spins or ties in together as one part (common practice).
MOST_TOGETHER = 8


@dataclass(frozen=True, slots=True)
class Ingredient:
    """A material in a colour; the colour is None where the stuff has none of its own."""

    material: Material
    colour: Colour | None = None

    @property
    def key(self) -> tuple[str, str]:
        """Identity for comparing what a part is made of."""
        return self.material.id, self.colour.id if self.colour else ""

    @property
    def words(self) -> str:
        """The ingredient as a tyer says it, colour first; a colour the name holds is not said."""
        if self.colour is None or self.colour.name.lower() in self.material.name.lower():
            return self.material.name
        return f"{self.colour.name} {self.material.name}"


@dataclass(frozen=True)
class Part:
    """One place on the fly and what the dressing puts there.

    Attributes
    ----------
    id : str
        The part's id, such as ``"wing-case"``.
    ingredients : tuple of Ingredient
        One, or two and more wound or blended together.
    length : pint.Quantity or None
        A length the dressing asks for, absolute or in parts of the hook.
    thickness : pint.Quantity or None
        A thread weight or a wire diameter the dressing asks for.
    counts : mapping of str to int
        Counts the dressing asks for, such as ``{"turns": 6}``.
    signature : bool
        Whether this part makes the fly what it is: it is not left out, and stays of its kind.
    alternatives : tuple of tuple of Ingredient
        What else the author allows in its place; none at all where the part may be left out.
    note : str
    origin : Origin
    """

    id: str
    ingredients: tuple[Ingredient, ...]
    length: Quantity[float] | None = None
    thickness: Quantity[float] | None = None
    counts: Mapping[str, int] = field(default_factory=dict)
    signature: bool = False
    alternatives: tuple[tuple[Ingredient, ...], ...] = ()
    note: str = ""
    origin: Origin = field(default=NOWHERE, compare=False)

    @property
    def may_go(self) -> bool:
        """Whether the author allows the fly without this part."""
        return () in self.alternatives

    @cached_property
    def ways(self) -> tuple[Part, ...]:
        """The part in each way that the author allows, the first one first, each without others.

        Leaving it out is none of them: `may_go` tells of that.
        """
        if not self.alternatives:
            return (self,)
        made_of = dict.fromkeys((self.ingredients, *filter(None, self.alternatives)))
        return tuple(replace(self, ingredients=one, alternatives=()) for one in made_of)


@dataclass(frozen=True, slots=True)
class Dressing:
    """The recipe of a fly.

    Attributes
    ----------
    name : str
    style : str
        Id of the style.
    sizes : tuple of int
        Hook sizes the author gives, largest hook first.
    size : int
        The hook size to tie when nobody asks for another.
    parts : tuple of Part
        In the order in which they were written.
    source, note : str
    origin : Origin
    unread : tuple of str
        Words of its text that were not understood: nothing is proven of the fly as written.
    """

    name: str
    style: str
    sizes: tuple[int, ...]
    size: int
    parts: tuple[Part, ...]
    source: str = ""
    note: str = ""
    origin: Origin = field(default=NOWHERE, compare=False)
    unread: tuple[str, ...] = field(default=(), compare=False)

    def part(self, part_id: str) -> Part | None:
        """Return the part of that id, or None."""
        return next((part for part in self.parts if part.id == part_id), None)

    def ways(self, most: int = 64) -> Iterator[Dressing]:
        """Yield a dressing for each combination of what the author allows, at most so many."""
        each = [(*part.ways, None) if part.may_go else part.ways for part in self.parts]
        for picked in islice(product(*each), most):
            yield replace(self, parts=tuple(part for part in picked if part is not None))
