"""A measured colour that no screen can show comes as the nearest that one can."""

from __future__ import annotations

from math import atan2

import pytest

from variants.cielab import lab_of, nearest_shade


def test_a_shade_stronger_than_a_screen_keeps_its_lightness_and_hue() -> None:
    lightness, a, b = lab_of(nearest_shade((50.0, 120.0, 60.0)))
    assert lightness == pytest.approx(50.0, abs=0.5)
    assert atan2(b, a) == pytest.approx(atan2(60.0, 120.0), abs=0.02)
