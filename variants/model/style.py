"""A style: how a fly is built and fished, and which parts it may have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

#: What a part is, by how it is made: each is laid out, drawn and reckoned in its own way. The
#: hook, the thread and the head are the fly's frame; an `underlay` lies unseen under the body, a
#: `band` is a body of few turns, a feather is `wound` by its stem, a `bunch` is fibres or a feather
#: tied in by the butts, a `strip` lies over the back.
FORMS = (
    "hook", "thread", "head", "bead", "underlay", "band", "body", "thorax", "coating", "rib",
    "wound", "bunch", "wing", "strip", "eyes",
)  # fmt: skip
#: How what is tied in stands to the shank: at its rear end, over it, upright on it, under it, under
#: it to both sides, or flat at its side.
STANDS = ("rear", "above", "upright", "below", "astride", "beside")
#: The parts that every fly has, whatever else it has: what all is tied on, with, and ended by.
HOOK, THREAD, HEAD = FRAME = ("hook", "thread", "head")
#: Forms that make a body of their own round the shank.
BUILT = ("underlay", "band", "body", "thorax", "bead", "head")
#: Forms that are wound over a body, and take their core from it.
WOUND_OVER = ("rib", "coating", "wound")
#: Forms of fibres and feathers tied in by their butts.
TIED_IN = ("bunch", "wing")
#: Forms that lie under others and are not seen.
HIDDEN = ("underlay", "coating")


@dataclass(frozen=True, slots=True)
class PartKind:
    """An entry of the parts table: a place on a fly, what can serve there, and what it is.

    Attributes
    ----------
    id, name : str
    also : tuple of str
    tying_order : int
    functions : frozenset of str
        What a material must be able to be in order to serve there.
    says, source : str
    like : str
        Id of the part whose rows, rules and looks hold of it where it has none of its own; empty
        for none.
    form : str
        One of `FORMS`.
    over : str
        Id of the part that it is wound over; empty for the bare shank.
    stands : str
        One of `STANDS`; empty for what goes round the shank.
    layer : int
        What is drawn later hides what has a lower number.
    gauged : bool
        Whether it is of barbs that a hackle gauge measures.
    kin : tuple of str
        The other names by which tables may speak of it, the nearest first: those of the parts it
        is like, how it stands, its form.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    tying_order: int = 0
    functions: frozenset[str] = frozenset()
    says: str = ""
    source: str = ""
    like: str = ""
    form: str = "bunch"
    over: str = ""
    stands: str = ""
    layer: int = 0
    gauged: bool = False
    kin: tuple[str, ...] = ()

    @property
    def lineage(self) -> tuple[str, ...]:
        """Every name by which tables may speak of it, its own first."""
        return (self.id, *self.kin)

    def is_like(self, part: str) -> bool:
        """Tell whether this is a part, or one that is like it."""
        return part in self.lineage

    @property
    def is_built(self) -> bool:
        """Whether it makes a body of its own round the shank."""
        return self.form in BUILT

    @property
    def goes_in_front(self) -> bool:
        """Whether it fills the shank between the body and the head, all round."""
        return self.form == "thorax" or (self.form == "wound" and self.over != "body")

    @property
    def takes_whole_feathers(self) -> bool:
        """Whether feathers go into it whole, whatever their class, and not barb by barb."""
        return self.form in ("wound", "wing") or self.stands == "beside"

    @property
    def hangs(self) -> bool:
        """Whether it hangs under the shank."""
        return self.stands in ("below", "astride")

    @property
    def is_seen(self) -> bool:
        """Whether anything of it is seen on a finished fly."""
        return self.form not in HIDDEN


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
    like : str
        Id of the style's part that this one is like, of those that the style doesn't name itself.
    """

    part: str
    weight: float
    optional: bool
    says: str = ""
    source: str = ""
    signature: frozenset[str] = frozenset()
    like: str = ""


@dataclass(frozen=True, slots=True)
class Style:
    """How a fly is built and fished.

    Attributes
    ----------
    id, name : str
    also : tuple of str
    says : str
    floats : bool
    parts : tuple of StylePart
        In tying order.
    source : str
    like : str
        Id of the style whose rows and rules hold of it where it has none of its own.
    sets_aside : frozenset of str
        Ids of rules of the style it is like that don't hold of it.
    kin : tuple of str
        Ids of the styles it is like, the nearest first.
    more : tuple of StylePart
        Parts that a dressing may have because they are like one of the style's.
    """

    id: str
    name: str
    also: tuple[str, ...]
    says: str
    floats: bool
    parts: tuple[StylePart, ...]
    source: str = ""
    like: str = ""
    sets_aside: frozenset[str] = frozenset()
    kin: tuple[str, ...] = ()
    more: tuple[StylePart, ...] = ()

    @property
    def lineage(self) -> tuple[str, ...]:
        """Its own id, then those of the styles it is like."""
        return (self.id, *self.kin)

    def part(self, part_id: str) -> StylePart | None:
        """Return the style's entry for a part, or None when it has no such part."""
        return next((part for part in (*self.parts, *self.more) if part.part == part_id), None)

    @property
    def tying_order(self) -> dict[str, int]:
        """The place in the tying order of each part; one that is like another follows it."""
        order: list[str] = []
        for own in self.parts:
            order.append(own.part)
            order += [one.part for one in self.more if one.like == own.part]
        return {part: number for number, part in enumerate(order)}

    def in_tying_order(self, parts: Iterable[str]) -> list[str]:
        """Return parts in the order in which they are tied; what the style lacks goes last."""
        place = self.tying_order
        return sorted(parts, key=lambda part: place.get(part, len(place)))
