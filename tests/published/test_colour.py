"""Shades: CIEDE2000 and CIELAB against published pairs and a reference library."""

from __future__ import annotations

import warnings
from pathlib import Path

import numpy as np
import pytest

from variants.model import Trade
from variants.rulebook.colours import delta_e_lab, lab

with warnings.catch_warnings():
    # It tells at import which of its optional parts are not installed.
    warnings.simplefilter("ignore")
    import colour

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
    assert delta_e_lab(pair[:3], pair[3:6]) == pytest.approx(pair[6], abs=1e-4)  # type: ignore[arg-type]


@pytest.mark.source("colour-science", "delta_E_CIE2000, sRGB_to_XYZ and XYZ_to_Lab")
def test_every_shade_of_the_table_has_the_cielab_of_the_reference_library(
    real_trade: Trade,
) -> None:
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    shades = sorted({shade for one in real_trade.colours.values() for shade in one.hexes})
    assert len(shades) > 100
    for shade in shades:
        rgb = np.array([int(shade[at : at + 2], 16) / 255 for at in (1, 3, 5)])
        expected = colour.XYZ_to_Lab(colour.sRGB_to_XYZ(rgb), white)
        # The two libraries round the matrix and the white point of sRGB at different digits.
        assert lab(shade) == pytest.approx(tuple(expected), abs=0.02), shade


@pytest.mark.source("colour-science", "delta_E_CIE2000")
def test_differences_of_table_shades_equal_the_reference_library(real_trade: Trade) -> None:
    shades = sorted({one.hexes[0] for one in real_trade.colours.values() if one.hexes})
    for one, other in zip(shades, shades[7:], strict=False):
        expected = colour.delta_E(np.array(lab(one)), np.array(lab(other)), method="CIE 2000")
        assert delta_e_lab(lab(one), lab(other)) == pytest.approx(float(expected), abs=1e-4)
