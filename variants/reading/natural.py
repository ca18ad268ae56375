"""The colour that stuff has by nature: meant where no colour is named, or by the word natural."""

from __future__ import annotations

from variants.model import Colour, Material, Trade, plain

#: Stands in a colour's place for the one that the stuff has by nature.
NATURAL = "natural"


def leaves_natural(name: str, material: Material | None) -> bool:
    """Tell whether a colour's name leaves stuff the colour that it has by nature.

    The word for it does so only of stuff for which the tables know such a colour.
    """
    if plain(name) != NATURAL:
        return not name.strip()
    return material is None or material.natural_colour is not None


def natural_of(material: Material, trade: Trade) -> Colour | None:
    """Return the colour that a material has by nature; None where the tables know none."""
    return trade.colours.get(material.natural_colour or "")
