"""What may fill a part of the fly: from the box, mixed, combined, or left out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from variants.model.box import Item
from variants.model.dressing import Ingredient

#: The values rules can read: a word, a grade, a measure, a set of words.
Value = str | int | float | bool | frozenset[str] | None
Attributes = Mapping[str, Value]
#: A fly as the rules see it: the attributes of what fills each part.
Fly = Mapping[str, Attributes]


class Way(Enum):
    """How a candidate fills its part; the value is the word shown to the tyer."""

    AS_WRITTEN = "as written"
    SUBSTITUTE = "in its place"
    MIXED = "two together"
    COMBINED = "one for two"
    LEFT_OUT = "left out"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class Term:
    """One term of the departure: what differs, by how much, and what that costs.

    ``cost`` is a whole number of thousandths, the search's unit.
    """

    what: str
    cost: int
    says: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """One way to fill one part. Candidates compare by identity; ``key`` orders them.

    Attributes
    ----------
    part : str
    way : Way
    ingredients : tuple of Ingredient
        What it is made of; empty when the part is left out.
    items : tuple of tuple of Item
        For each ingredient, the items of the box that would do, all alike to every rule.
    attributes : mapping
        What the rules read.
    terms : tuple of Term
        The departure that this candidate alone brings.
    key : tuple
        Stable order among candidates of equal cost; independent of the order of the box.
    uses : int
        How many counted pieces (feathers, hooks) one fly takes of each ingredient.
    """

    part: str
    way: Way
    ingredients: tuple[Ingredient, ...]
    items: tuple[tuple[Item, ...], ...]
    attributes: Attributes
    terms: tuple[Term, ...] = ()
    key: tuple[str, ...] = ()
    uses: int = 1
    cost: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "cost", sum(term.cost for term in self.terms))

    @property
    def is_changed(self) -> bool:
        """Whether this differs from the dressing in material or colour."""
        return self.way is not Way.AS_WRITTEN

    @property
    def identity(self) -> str:
        """What makes two fillings of a part the same dressing, whichever item they come from."""
        made_of = " + ".join(sorted("/".join(one.key) for one in self.ingredients)) or "left out"
        if not self.is_changed:
            made_of = "as written"
        blend = self.attributes.get("blend")
        if blend is not None:
            made_of += f" blended {blend}"
        size = self.attributes.get("size")
        return f"{made_of} #{size}" if size is not None else made_of

    @property
    def words(self) -> str:
        """What fills the part, as a tyer says it."""
        if not self.ingredients:
            return "left out"
        made_of = " with ".join(dict.fromkeys(one.words for one in self.ingredients))
        blend = self.attributes.get("blend")
        if blend is not None:
            made_of += f", blended {blend}"
        size = self.attributes.get("size")
        return f"{made_of}, size {size}" if size is not None else made_of
