"""A colour as the trade names it: its shade on the screen, its family, its marking."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Colour:
    """An entry of the colours table, or a shade measured by the owner.

    Attributes
    ----------
    id : str
        Its name in files, such as ``"blue-dun"``; a measured shade is its own hex value.
    name : str
        The trade word.
    also : tuple of str
        Other words for the same colour.
    family : str
        ISCC-NBS category words, joined by `` + `` where a feather shows several.
    marking : str
        Id of the marking: how a feather carries the colour.
    components : tuple of str
        Ids of the colours an observer would name in it; empty for a plain one.
    hexes : tuple of str
        sRGB values ``#RRGGBB``, main shade first.
    cover : tuple of int
        Hundredths of the feather that each of them covers, as its marking tells; empty where the
        first simply covers most.
    is_made : bool
        Whether stuff is dyed or made in it, so that it is no natural stuff's own.
    source, hex_source, note : str
        Where the word and the values come from.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    family: str = ""
    marking: str = "solid"
    components: tuple[str, ...] = ()
    hexes: tuple[str, ...] = ()
    source: str = ""
    hex_source: str = ""
    note: str = ""
    cover: tuple[int, ...] = ()
    is_made: bool = False


@dataclass(frozen=True, slots=True)
class Marking:
    """How a feather carries its colour, and how far that is from other markings (0 to 1).

    ``shares`` are the hundredths that its shades cover; they hold for colours of so many shades.
    """

    id: str
    name: str
    says: str = ""
    like: tuple[tuple[str, float], ...] = ()
    shares: tuple[int, ...] = ()
    source: str = ""
