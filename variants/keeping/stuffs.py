"""What a few words name: a material and a colour of the tables, such as ``olive seal's fur``."""

from __future__ import annotations

from dataclasses import dataclass

from variants.model import Colour, Material
from variants.reading.plain.glossary import Glossary
from variants.reading.plain.words import Sort, tokens_of


@dataclass(frozen=True, slots=True)
class Stuff:
    """What words name, as far as they do.

    Attributes
    ----------
    material, colour : Material or None, Colour or None
        None where the words leave it open.
    choices : tuple of Material
        That the words may mean.
    unknown : tuple of str
        Words that mean nothing here.
    """

    material: Material | None
    colour: Colour | None
    choices: tuple[Material, ...] = ()
    unknown: tuple[str, ...] = ()


def stuff_named(text: str, glossary: Glossary) -> Stuff:
    """Return the material and the colour that words name; none that they leave open.

    Parameters
    ----------
    text : str
    glossary : Glossary
    """
    trade = glossary.trade
    materials: list[str] = []
    colours: list[str] = []
    unknown: list[str] = []
    for piece in glossary.vocabulary.pieces(tokens_of(text[:200])):
        named = [sense.gives for sense in piece.senses if sense.sort in (Sort.MATERIAL, Sort.STUFF)]
        shades = [sense.gives for sense in piece.senses if sense.sort is Sort.COLOUR]
        # A word that names both, such as "hare's ear", is the stuff until another one is.
        if named and not materials:
            materials = named
        elif shades and not colours:
            colours = shades
        elif not named and not shades and piece.has(Sort.UNKNOWN):
            unknown.append(piece.written)
    choices = tuple(trade.materials[one] for one in dict.fromkeys(materials))
    colour = trade.colours[colours[0]] if len(set(colours)) == 1 else None
    return Stuff(choices[0] if len(choices) == 1 else None, colour, choices, tuple(unknown))
