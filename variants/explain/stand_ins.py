"""What is asked of `find_stand_ins`, and its answer: plain facts, none of the ranking."""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import Colour, Item, Material, StylePart, Term
from variants.rulebook import Need, Profile


@dataclass(frozen=True, slots=True)
class StandInQuery:
    """What is wanted, and for what.

    Attributes
    ----------
    material : Material
    part, style : str
        Ids.
    colour : Colour or None
        None asks for the material in its natural colour, or in any when it comes in many.
    without : frozenset of str
        What can't be had either: ids of materials, classes of stuff, colours, families of colour.
    """

    material: Material
    part: str
    style: str
    colour: Colour | None = None
    without: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class StandIn:
    """One thing to use instead.

    Attributes
    ----------
    material : Material
    colours : tuple of Colour
        One; two when two feathers or furs go in together; none for stuff without colour, and where
        the colour does not matter.
    distance : int
        Thousandths; the sum of the terms.
    terms : tuple of Term
        What differs, largest first.
    items : tuple of Item
        What the box holds of it.
    """

    material: Material
    colours: tuple[Colour, ...]
    distance: int
    terms: tuple[Term, ...]
    items: tuple[Item, ...] = ()


@dataclass(frozen=True, slots=True)
class StandInGroup:
    """A stand-in, and what else of its class, from the same kind of animal, would do likewise."""

    first: StandIn
    likewise: tuple[StandIn, ...] = ()


@dataclass(frozen=True, slots=True)
class Unfit:
    """Stuff that is tied in at the part but does not serve here, and the needs it fails."""

    material: Material
    distance: int
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class OtherName:
    """The stuff asked for as another row of the tables has it: in which colour, who says so."""

    material: Material
    colour: Colour | None
    says: str
    source: str


@dataclass(frozen=True, slots=True)
class StandIns:
    """The whole answer.

    Attributes
    ----------
    asked : Asked
    profile : Profile
        What matters at the part, with its source.
    answers : tuple of Answer
        Other materials, nearest first.
    shades : tuple of StandIn
        The same stuff in other colours, or two of them together, nearest first.
    same : tuple of OtherName
        The same stuff by another name, as ``rules/likeness/same.toml`` has it.
    held : tuple of Item
        What the box holds of the very thing.
    unfit : tuple of Unfit
        What does not serve, nearest first.
    may_go : StylePart or None
        The style's entry for the part when a fly of the style can go without it.
    """

    asked: StandInQuery
    profile: Profile
    answers: tuple[StandInGroup, ...]
    shades: tuple[StandIn, ...]
    same: tuple[OtherName, ...]
    held: tuple[Item, ...]
    unfit: tuple[Unfit, ...]
    may_go: StylePart | None
