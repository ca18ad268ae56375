"""Helices and cones against numerical integration by SciPy."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from variants.geometry.solids import Cone, helix_mm, turns_for

SIZES = st.floats(0.1, 20.0)


@given(SIZES, SIZES, SIZES, st.floats(0.0, 60.0), st.floats(0.0, 1.0))
def test_a_strand_on_a_taper_is_as_long_as_its_arc(
    length: float, rear: float, front: float, turns: float, strand: float
) -> None:
    """Arc length of a conical helix, integrated numerically."""

    def speed(t: float) -> float:
        radius = (rear + strand) / 2 + (front - rear) / 2 * t
        return sqrt((2 * pi * turns * radius) ** 2 + ((front - rear) / 2) ** 2 + length**2)

    expected, _ = quad(speed, 0.0, 1.0, epsabs=1e-10, epsrel=1e-10)
    assert helix_mm(Cone(length, rear, front), turns, strand) == pytest.approx(expected, rel=1e-6)


@given(SIZES, SIZES, SIZES)
def test_volume_is_that_of_the_turned_solid(length: float, rear: float, front: float) -> None:
    cone = Cone(length, rear, front)
    expected, _ = quad(lambda t: pi / 4 * cone.diameter_mm(t) ** 2 * length, 0.0, 1.0)
    assert cone.volume_mm3 == pytest.approx(expected, rel=1e-9)


@given(SIZES, SIZES, SIZES)
def test_a_core_takes_its_cylinder_away(length: float, across: float, more: float) -> None:
    cone = Cone(length, across + more, across + more, across)
    expected = pi / 4 * length * ((across + more) ** 2 - across**2)
    assert cone.volume_mm3 == pytest.approx(expected, rel=1e-9)


@given(SIZES, st.floats(0.01, 3.0))
def test_turns_lie_side_by_side(length: float, pitch: float) -> None:
    assert turns_for(length, pitch) * pitch == pytest.approx(length)
    assert turns_for(length, 0.0) == 0.0
