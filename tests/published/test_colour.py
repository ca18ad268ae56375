"""Shades: CIEDE2000 and CIELAB against published pairs and a reference library."""

from __future__ import annotations

import warnings
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from variants.cielab import ciede2000, lab_of, nearest_shade
from variants.model import Trade

with warnings.catch_warnings():
    # It tells at import which of its optional parts are not installed.
    warnings.simplefilter("ignore")
    import colour

SRGB = colour.RGB_COLOURSPACES["sRGB"]
#: The same with its matrix computed from the primaries, not rounded to four digits.
EXACT = SRGB.copy()
EXACT.use_derived_matrix_RGB_to_XYZ = True
PAIRS = [
    tuple(map(float, line.split("\t")))
    for line in (Path(__file__).with_name("ciede2000_pairs.tsv")).read_text().splitlines()
    if not line.startswith(("#", "L1"))
]


@pytest.mark.source("sharma-2005", "table 1")
def test_all_34_pairs_are_here() -> None:
    assert len(PAIRS) == 34


@pytest.mark.source("sharma-2005", "table 1")
@pytest.mark.parametrize("pair", PAIRS, ids=range(1, len(PAIRS) + 1))
def test_ciede2000_equals_the_published_pairs(pair: tuple[float, ...]) -> None:
    assert ciede2000(pair[:3], pair[3:6]) == pytest.approx(pair[6], abs=1e-4)  # type: ignore[arg-type]


def shades_of(trade: Trade) -> list[str]:
    shades = sorted({shade for one in trade.colours.values() for shade in one.hexes})
    assert len(shades) > 100
    return shades


def linear_light(shade: str) -> NDArray[np.float64]:
    coded = np.array([int(shade[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.asarray(SRGB.cctf_decoding(coded))


@pytest.mark.source("iec-61966-2-1", "matrix from linear sRGB to XYZ, four digits")
def test_the_primaries_give_the_published_matrix() -> None:
    published = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    assert np.round(EXACT.matrix_RGB_to_XYZ, 4).tolist() == published


@pytest.mark.source("colour-science", "eotf_sRGB, RGB_COLOURSPACE_sRGB and XYZ_to_Lab")
def test_every_shade_of_the_table_has_the_cielab_of_the_reference_library(
    real_trade: Trade,
) -> None:
    for shade in shades_of(real_trade):
        xyz = EXACT.matrix_RGB_to_XYZ @ linear_light(shade)
        assert lab_of(shade) == pytest.approx(tuple(colour.XYZ_to_Lab(xyz, EXACT.whitepoint))), (
            shade
        )


@pytest.mark.source("iec-61966-2-1", "matrix from linear sRGB to XYZ, four digits")
def test_the_rounding_of_the_published_matrix_moves_no_shade_that_an_eye_could_tell(
    real_trade: Trade,
) -> None:
    for shade in shades_of(real_trade):
        xyz = SRGB.matrix_RGB_to_XYZ @ linear_light(shade)
        assert lab_of(shade) == pytest.approx(
            tuple(colour.XYZ_to_Lab(xyz, SRGB.whitepoint)), abs=0.02
        )


@pytest.mark.source("colour-science", "delta_E_CIE2000")
def test_differences_of_table_shades_equal_the_reference_library(real_trade: Trade) -> None:
    shades = sorted({one.hexes[0] for one in real_trade.colours.values() if one.hexes})
    for one, other in zip(shades, shades[7:], strict=False):
        expected = colour.delta_E(np.array(lab_of(one)), np.array(lab_of(other)), method="CIE 2000")
        assert ciede2000(lab_of(one), lab_of(other)) == pytest.approx(float(expected), abs=1e-4)


@given(*[st.floats(-128, 128)] * 4, *[st.floats(0, 100)] * 2)
@pytest.mark.source("coloraide", "delta_e, method 2000")
def test_any_two_colours_differ_as_the_library_has_it(
    a_1: float, b_1: float, a_2: float, b_2: float, light_1: float, light_2: float
) -> None:
    one, other = (light_1, a_1, b_1), (light_2, a_2, b_2)
    expected = Color("lab-d65", list(one)).delta_e(Color("lab-d65", list(other)), method="2000")
    assert ciede2000(one, other) == pytest.approx(expected, abs=1e-6)


@given(st.integers(0, 0xFFFFFF))
@pytest.mark.source("coloraide", "lab-d65 to srgb")
def test_a_shade_measured_as_cielab_comes_back(value: int) -> None:
    shade = f"#{value:06X}"
    assert tuple(Color(shade).convert("lab-d65").coords()) == pytest.approx(lab_of(shade), abs=1e-6)
    assert nearest_shade(lab_of(shade)) == shade
