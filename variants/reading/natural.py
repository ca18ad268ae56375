"""The natural colour of a material: meant where no colour is named, or by the word natural."""

from __future__ import annotations

from variants.model import Colour, Material, Trade, plain

#: Stands in a colour's place for the natural one.
NATURAL = "natural"


def means_natural(name: str, material: Material | None) -> bool:
    """Tell whether the name of a colour means the natural one: it is empty, or says so.

    The word counts only for materials of which the tables know the natural colour.
    """
    if plain(name) != NATURAL:
        return not name.strip()
    return material is None or material.natural_colour is not None


def find_natural_colour(material: Material, trade: Trade) -> Colour | None:
    """Return the natural colour of a material; None where the tables know none."""
    return trade.colours.get(material.natural_colour or "")
