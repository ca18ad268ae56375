"""The shade of two dubbings blended: what the eye sees of fine fibres lying side by side.

Fibres too fine to be told apart mix by the light they send back, so their shares are averaged in
linear light (sRGB without its curve), not in the numbers of the screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from operator import mul

from variants.cielab import Triple, linear_of, shade_of
from variants.rulebook.colours import lab

#: CIEDE2000 divides a difference in L* by no more than this: 1 + 0.015 * 50**2 / sqrt(20 + 50**2).
_LIGHTNESS_DIVIDED = 1.75
#: What rounding a blend to ``#RRGGBB`` may change in its L*, with room to spare: half a step of a
#: channel is some 0.2 where it is darkest.
_ROUNDED = 1.0


@lru_cache(maxsize=4096)
def to_linear(shade: str) -> Triple:
    """Return the linear-light red, green and blue, 0 to 1, of an sRGB value ``#RRGGBB``."""
    return linear_of(shade)


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
    whole = sum(parts)
    lights = zip(*map(to_linear, shades), strict=True)
    red, green, blue = (sum(map(mul, parts, light)) / whole for light in lights)
    return shade_of((red, green, blue))


def may_reach(
    wanted: str, shades: Sequence[str], within: float, parts: Sequence[int] | None = None
) -> bool:
    """Tell whether a blend of shades could come within a CIEDE2000 difference of a shade.

    Parameters
    ----------
    wanted : str
    shades : sequence of str
    within : float
    parts : sequence of int, optional
        Parts by weight; any by default.

    Notes
    -----
    A bound that spares most blends a comparison. Light adds up, so a blend's luminance is the mean
    of its parts', and colours further apart in L* than ``within`` times the greatest divisor of
    that formula differ by more.
    """
    darkest, lightest = _reach(wanted, within)
    if parts is None:
        lights = [_luminance(shade) for shade in shades]
        return min(lights) <= lightest and max(lights) >= darkest
    light: float = sum(map(mul, parts, map(_luminance, shades))) / sum(parts)
    return darkest <= light <= lightest


@lru_cache(maxsize=4096)
def _luminance(shade: str) -> float:
    return _light_of(lab(shade)[0])


@lru_cache(maxsize=4096)
def _reach(wanted: str, within: float) -> tuple[float, float]:
    """Return the least and greatest luminance from which a shade can be within a difference."""
    lightness, margin = lab(wanted)[0], within * _LIGHTNESS_DIVIDED + _ROUNDED
    return _light_of(lightness - margin), _light_of(lightness + margin)


def _light_of(lightness: float) -> float:
    """Return the luminance, 0 to 1, of a CIELAB lightness (CIE 15:2018).

    >>> round(_light_of(100.0), 6), round(_light_of(50.0), 4), _light_of(0.0)
    (1.0, 0.1842, 0.0)
    """
    if lightness <= 8.0:
        return lightness * 27 / 24389
    return float(((lightness + 16) / 116) ** 3)
