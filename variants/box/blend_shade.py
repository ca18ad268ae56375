"""The shade of an owner's own blend, computed from its recipe."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from variants.model import BlendPart, Colour, Trade
from variants.rulebook import blend_shade, delta_e

#: Parts are told to the hundredth of a part.
_FINEST = 100


@dataclass(frozen=True, slots=True)
class BlendShade:
    """A blend's shade.

    Attributes
    ----------
    shade : str
        ``#RRGGBB``.
    nearest : Colour
        The plain colour of the tables that comes nearest.
    apart : float
        How far off that is, in CIEDE2000.
    """

    shade: str
    nearest: Colour
    apart: float


def compute_blend_shade(parts: Sequence[BlendPart], trade: Trade) -> BlendShade | None:
    """Return the shade of a blend; None where the colour of a part is not known.

    Parameters
    ----------
    parts : sequence of BlendPart
        Each is taken by its main shade.
    trade : Trade
    """
    shades = [part.colour.hexes[0] for part in parts if part.colour and part.colour.hexes]
    if len(shades) < len(parts):
        return None
    shade = blend_shade(shades, [round(part.parts * _FINEST) for part in parts])
    plain_ones = [colour for colour in trade.colours.values() if len(colour.hexes) == 1]
    near = min(plain_ones, key=lambda colour: (delta_e(shade, colour.hexes[0]), colour.id))
    return BlendShade(shade, near, delta_e(shade, near.hexes[0]))
