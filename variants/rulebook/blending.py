"""The shade of two dubbings blended: what the eye sees of fine fibres lying side by side.

Fibres too fine to be told apart mix by the light they send back, so their shares are averaged in
linear light (sRGB without its curve), not in the numbers of the screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

Linear = tuple[float, float, float]


@lru_cache(maxsize=4096)
def linear(shade: str) -> Linear:
    """Return the linear-light red, green and blue, 0 to 1, of an sRGB value ``#RRGGBB``."""
    from coloraide import Color

    red, green, blue = Color(shade).convert("srgb-linear").coords(nans=False)
    return float(red), float(green), float(blue)


def blend_shade(shades: Sequence[str], parts: Sequence[int]) -> str:
    """Return the shade of a blend, as ``#RRGGBB``.

    Parameters
    ----------
    shades : sequence of str
    parts : sequence of int
        Parts by weight, one for each shade; fibres of like fineness are taken as read.

    Examples
    --------
    >>> blend_shade(["#000000", "#FFFFFF"], [1, 1])
    '#BCBCBC'
    >>> blend_shade(["#7A3A20", "#7A3A20"], [1, 3])
    '#7A3A20'
    """
    from coloraide import Color

    whole = sum(parts)
    mixed = [
        sum(linear(shade)[channel] * part for shade, part in zip(shades, parts, strict=True))
        / whole
        for channel in range(3)
    ]
    return Color("srgb-linear", mixed).convert("srgb").to_string(hex=True).upper()
