"""Colour arithmetic: sRGB, linear light, CIELAB, and the CIEDE2000 difference.

Plain numbers in, plain numbers out, so that no colour library has to be imported for an answer (a
tenth of a second). What stands here is held against a colour library and against published pairs by
``tests/published/test_colour.py``. White is D65, as sRGB has it.
"""

from __future__ import annotations

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

Triple = tuple[float, float, float]

#: Linear sRGB to CIE XYZ, and back (W3C, CSS Color Module Level 4, section "Sample code", 2022).
_TO_XYZ = (
    (0.4123907992659593, 0.357584339383878, 0.1804807884018343),
    (0.21263900587151024, 0.715168678767756, 0.07219231536073371),
    (0.01933081871559182, 0.11919477979462598, 0.9505321522496607),
)
_FROM_XYZ = (
    (3.240969941904523, -1.5373831775700941, -0.4986107602930035),
    (-0.9692436362808797, 1.8759675015077204, 0.04155505740717562),
    (0.05563007969699365, -0.20397695888897652, 1.0569715142428784),
)
#: CIE XYZ of D65 from its chromaticity 0.3127, 0.3290.
_WHITE = (0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290)
#: CIE 15:2018: below the first the cube root gives way to a line, whose slope is the second.
_EPSILON, _KAPPA = 216 / 24389, 24389 / 27
_25_TO_7 = 25.0**7
#: How often the range of a chroma is halved to find the strongest that a screen can show.
_HALVINGS = 20


def linear_of(shade: str) -> Triple:
    """Return linear-light red, green and blue, 0 to 1, of ``#RRGGBB`` (sRGB: IEC 61966-2-1)."""
    coded = (int(shade[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (
        one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in coded
    )
    return red, green, blue


def shade_of(linear: Triple) -> str:
    """Return the sRGB value ``#RRGGBB`` of linear light; what a screen can't show is clipped.

    >>> shade_of(linear_of("#7A3A20"))
    '#7A3A20'
    """
    coded = (
        12.92 * one if one <= 0.0031308 else 1.055 * one ** (1 / 2.4) - 0.055 for one in linear
    )
    return "#" + "".join(f"{int(min(max(one, 0.0), 1.0) * 255 + 0.5):02X}" for one in coded)


def lab_of(shade: str) -> Triple:
    """Return CIELAB of an sRGB value ``#RRGGBB``.

    >>> [round(value, 2) + 0.0 for value in lab_of("#FFFFFF")]
    [100.0, 0.0, 0.0]
    """
    return lab_of_linear(linear_of(shade))


def lab_of_linear(linear: Triple) -> Triple:
    """Return CIELAB of linear-light red, green and blue."""
    ratios = (
        value / white for value, white in zip(_multiply(_TO_XYZ, linear), _WHITE, strict=True)
    )
    x, y, z = (one ** (1 / 3) if one > _EPSILON else (_KAPPA * one + 16) / 116 for one in ratios)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def linear_of_lab(lab: Triple) -> Triple:
    """Return linear-light red, green and blue of CIELAB; beyond 0 to 1 no screen can show it."""
    y = (lab[0] + 16) / 116
    cubed = ((one, one**3) for one in (y + lab[1] / 500, y, y - lab[2] / 200))
    ratios = (cube if cube > _EPSILON else (116 * one - 16) / _KAPPA for one, cube in cubed)
    x, y, z = (one * white for one, white in zip(ratios, _WHITE, strict=True))
    return _multiply(_FROM_XYZ, (x, y, z))


def nearest_shade(lab: Triple) -> str:
    """Return the sRGB value nearest to a measured CIELAB colour, of its lightness and hue.

    Notes
    -----
    A colour stronger than a screen can show is weakened, its lightness and hue kept, until one can.
    """
    weakest, strongest = 0.0, 1.0
    if _is_shown(linear_of_lab(lab)):
        weakest = strongest
    for _ in range(_HALVINGS):
        middle = (weakest + strongest) / 2
        if _is_shown(linear_of_lab((lab[0], lab[1] * middle, lab[2] * middle))):
            weakest = middle
        else:
            strongest = middle
    return shade_of(linear_of_lab((lab[0], lab[1] * weakest, lab[2] * weakest)))


def _is_shown(linear: Triple) -> bool:
    return all(-1e-4 <= one <= 1 + 1e-4 for one in linear)


def ciede2000(one: Triple, other: Triple) -> float:
    """Return the CIEDE2000 difference of two CIELAB colours.

    References
    ----------
    Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", Color Research and
    Application 30 (2005), 21-30; names follow its equations.

    Examples
    --------
    >>> round(ciede2000((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485)), 4)
    2.0425
    """
    lightness_1, a_1, b_1 = one
    lightness_2, a_2, b_2 = other
    mean_7 = ((hypot(a_1, b_1) + hypot(a_2, b_2)) / 2) ** 7
    stretch = 1.5 - 0.5 * sqrt(mean_7 / (mean_7 + _25_TO_7))
    a_1, a_2 = a_1 * stretch, a_2 * stretch
    chroma_1, chroma_2 = hypot(a_1, b_1), hypot(a_2, b_2)
    hue_1, hue_2 = degrees(atan2(b_1, a_1)) % 360, degrees(atan2(b_2, a_2)) % 360
    turn, hue = hue_1 - hue_2, hue_1 + hue_2
    if chroma_1 * chroma_2 == 0.0:
        turn = 0.0
    elif abs(turn) <= 180.0:
        hue /= 2
    else:
        turn += -360 if turn > 180.0 else 360
        hue = (hue + (360 if hue < 360 else -360)) / 2
    chroma = (chroma_1 + chroma_2) / 2
    off_middle = ((lightness_1 + lightness_2) / 2 - 50) ** 2
    tint = (
        1
        - 0.17 * cos(radians(hue - 30))
        + 0.24 * cos(radians(2 * hue))
        + 0.32 * cos(radians(3 * hue + 6))
        - 0.20 * cos(radians(4 * hue - 63))
    )
    chroma_7 = chroma**7
    rotation = (
        -2
        * sqrt(chroma_7 / (chroma_7 + _25_TO_7))
        * sin(radians(60 * exp(-(((hue - 275) / 25) ** 2))))
    )
    by_lightness = (lightness_1 - lightness_2) / (1 + 0.015 * off_middle / sqrt(20 + off_middle))
    by_chroma = (chroma_1 - chroma_2) / (1 + 0.045 * chroma)
    by_hue = 2 * sqrt(chroma_1 * chroma_2) * sin(radians(turn / 2)) / (1 + 0.015 * chroma * tint)
    return sqrt(by_lightness**2 + by_chroma**2 + by_hue**2 + rotation * by_chroma * by_hue)


def _multiply(matrix: tuple[Triple, Triple, Triple], vector: Triple) -> Triple:
    x, y, z = vector
    first, second, third = (row[0] * x + row[1] * y + row[2] * z for row in matrix)
    return first, second, third
