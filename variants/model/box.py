"""The tyer's stock: one item is one thing owned."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from variants.model.colour import Colour
from variants.model.material import Material
from variants.model.origin import NOWHERE, Origin

if TYPE_CHECKING:
    from pint import Quantity, Unit


@dataclass(frozen=True, slots=True)
class BlendPart:
    """One stuff in a blend of the owner's: so many parts by weight of it."""

    parts: float
    material: Material
    colour: Colour | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """One thing owned: a cape, a packet, a spool, a box of hooks.

    Attributes
    ----------
    id : str
        The owner's name for it, unique in the box.
    material : Material
    colour : Colour or None
    sizes : tuple of int or None
        Hook sizes: of a hook, its own; of a feather, those that its barbs suit by the gauge.
    length_mm : tuple of float or None
        Shortest and longest barb or fibre as measured.
    thickness_mm, denier : float or None
        Of wire, tinsel, bead; of thread.
    gape_mm, shank_mm : float or None
        Of a hook that its owner measured; they override every table.
    side : str
        ``left``, ``right``, ``pair`` or empty.
    amount : pint.Quantity or None
        What is left; None when the owner keeps no count.
    price : float or None
        What was paid for it.
    bought : pint.Quantity or None
        How much that bought; None when what is left is what was bought.
    blend : tuple of BlendPart
        How to make it again, where its owner blended it.
    place : str
        Where it lies.
    note : str
    origin : Origin
    count : int or None
        How many pieces are left, or None when they are not counted in pieces.
    """

    id: str
    material: Material
    colour: Colour | None = None
    sizes: tuple[int, ...] | None = None
    length_mm: tuple[float, float] | None = None
    thickness_mm: float | None = None
    denier: float | None = None
    gape_mm: float | None = None
    shank_mm: float | None = None
    side: str = ""
    amount: Quantity[float] | None = None
    price: float | None = None
    bought: Quantity[float] | None = None
    blend: tuple[BlendPart, ...] = ()
    place: str = ""
    note: str = ""
    origin: Origin = field(default=NOWHERE, compare=False)
    count: int | None = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "count", _count_of(self.amount))

    @property
    def is_gone(self) -> bool:
        """Whether the owner wrote down that none is left."""
        return self.amount is not None and float(self.amount.magnitude) <= 0.0

    @property
    def is_in_feathers(self) -> bool:
        """Whether it is counted in feathers, of which single barbs may be taken."""
        return self.amount is not None and str(self.amount.units) == "feather"

    @property
    def left(self) -> Fraction | None:
        """How many pieces are left, to the last part of one, or None when they aren't counted."""
        if self.count is None or self.amount is None:
            return None
        pieces = _pieces_in(self.amount.units) or 1.0
        return Fraction(str(float(self.amount.magnitude) * pieces))

    @property
    def make(self) -> tuple[object, ...]:
        """What it is made of and measures: things alike in it serve alike, whatever is left."""
        return (
            self.material.id,
            self.colour.id if self.colour else "",
            self.sizes,
            self.length_mm,
            self.thickness_mm,
            self.denier,
            self.gape_mm,
            self.shank_mm,
            self.side,
        )


def _count_of(amount: Quantity[float] | None) -> int | None:
    if amount is None:
        return None
    pieces = _pieces_in(amount.units)
    return None if pieces is None else int(amount.magnitude * pieces)


@cache
def _pieces_in(unit: Unit) -> float | None:
    """Return how many pieces one of a unit is; None for one that counts no pieces."""
    one = 1 * unit
    return float(one.to("piece").magnitude) if one.check("[piece]") else None


@dataclass(frozen=True, slots=True)
class Box:
    """All that a tyer owns, in the order of the file."""

    items: tuple[Item, ...]
    origin: Origin = field(default=NOWHERE, compare=False)

    def item(self, item_id: str) -> Item | None:
        """Return the item of that id, or None."""
        return next((item for item in self.items if item.id == item_id), None)
