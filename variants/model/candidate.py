"""What may fill a part of the fly: from the box, mixed, combined, or left out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from variants.model.box import Item
from variants.model.dressing import Ingredient

#: The values rules can read: a word, a grade, a measure, a set of words.
Value = str | int | float | bool | frozenset[str] | None
Attributes = Mapping[str, Value]
#: A fly as the rules see it: the attributes of what fills each part.
Fly = Mapping[str, Attributes]


#: The sizes that a dressing may state of stuff, by attribute, each with its unit.
SIZES: Mapping[str, str] = {"thickness_mm": "mm", "denier": "denier"}


def asked_name(attribute: str) -> str:
    """Return the attribute that tells what the dressing asks of another.

    >>> asked_name("turns")
    'turns_asked'
    """
    return f"{attribute}_asked"


class Way(Enum):
    """How a candidate fills its part; the value is the word shown to the tyer."""

    AS_WRITTEN = "as written"
    SUBSTITUTE = "in its place"
    MIXED = "two together"
    COMBINED = "one for two"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class Term:
    """One term of the departure: what differs, by how much, and what that costs.

    ``cost`` is a whole number of thousandths, the search's unit.
    """

    what: str
    cost: int
    says: str = ""
    source: str = ""


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
    share : Fraction or None
        Of a feather, where single barbs are taken of each ingredient; None where it goes in whole.
    cost : int
        What the terms come to.
    is_changed : bool
        Whether this differs from the dressing in material or colour.

    Parameters
    ----------
    terms : tuple of Term, or callable
        What tells the terms when somebody wants them; then their sum is given as ``cost``.

    Notes
    -----
    A search makes thousands and shows a few dozen, so this is a plain class, which is made in a
    fraction of the time of a frozen one, and most never put their terms into words. None is changed
    once it is made.
    """

    __slots__ = (
        "_terms",
        "attributes",
        "cost",
        "ingredients",
        "is_changed",
        "items",
        "key",
        "part",
        "share",
        "uses",
        "way",
    )

    def __init__(
        self,
        part: str,
        way: Way,
        ingredients: tuple[Ingredient, ...],
        items: tuple[tuple[Item, ...], ...],
        attributes: Attributes,
        terms: tuple[Term, ...] | Callable[[], tuple[Term, ...]] = (),
        key: tuple[str, ...] = (),
        uses: int = 1,
        cost: int | None = None,
        share: Fraction | None = None,
    ) -> None:
        self.share = share
        self.part, self.way = part, way
        self.is_changed = way is not Way.AS_WRITTEN
        self.ingredients, self.items, self.attributes = ingredients, items, attributes
        self.key, self.uses, self._terms = key, uses, terms
        self.cost = sum([term.cost for term in self.terms]) if cost is None else cost

    @property
    def terms(self) -> tuple[Term, ...]:
        """The departure that this candidate alone brings."""
        if not isinstance(self._terms, tuple):
            self._terms = self._terms()
        return self._terms

    def varied(
        self,
        attributes: Attributes,
        key: tuple[str, ...],
        items: tuple[tuple[Item, ...], ...] | None = None,
        uses: int | None = None,
        share: Fraction | None = None,
    ) -> Candidate:
        """Return the same filling with other attributes, and from other items or more of each."""
        return Candidate(
            self.part,
            self.way,
            self.ingredients,
            self.items if items is None else items,
            attributes,
            lambda: self.terms,
            key,
            self.uses if uses is None else uses,
            self.cost,
            self.share if uses is None else share,
        )

    def __reduce__(self) -> tuple[type[Candidate], tuple[object, ...]]:
        """Travel with the terms told: what tells them has the whole request in hand."""
        told = (self.part, self.way, self.ingredients, self.items, self.attributes, self.terms)
        return type(self), (*told, self.key, self.uses, self.cost, self.share)

    def __repr__(self) -> str:
        return f"<{self.part}: {self.words}, {self.cost}>"

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
        if size is None and self.is_changed:
            size = self.size_stated or None
        return f"{made_of} #{size}" if size is not None else made_of

    @property
    def size_stated(self) -> str:
        """How thick it is, such as ``2.3 mm``, where the dressing states a size; else empty."""
        return next(
            (
                f"{float(size):.3g} {unit}"
                for name, unit in SIZES.items()
                if asked_name(name) in self.attributes
                and isinstance(size := self.attributes.get(name), int | float)
            ),
            "",
        )

    @property
    def words(self) -> str:
        """What fills the part, as a tyer says it."""
        if not self.ingredients:
            return "left out"
        made_of = " with ".join(dict.fromkeys(one.words for one in self.ingredients))
        blend = self.attributes.get("blend")
        if blend is not None:
            made_of += f", blended {blend}"
        if self.size_stated:
            made_of += f", {self.size_stated}"
        size = self.attributes.get("size")
        return f"{made_of}, size {size}" if size is not None else made_of
