"""Colours of several shades: laws of the comparison, and the transport against SciPy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from tests.real import rulebook
from variants.model import Colour
from variants.rulebook.colours import (
    colour_difference,
    delta_e,
    marking_difference,
    shares,
    wind_together,
)

TRADE = rulebook().trade
COLOURS = st.sampled_from(sorted(TRADE.colours.values(), key=lambda one: one.id))
HEXES = st.lists(
    st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06X}"), min_size=1, max_size=3, unique=True
)


def colour(hexes: list[str]) -> Colour:
    return Colour(id="+".join(hexes), name="shades", hexes=tuple(hexes))


@given(HEXES, HEXES)
def test_shades_are_matched_at_the_least_cost(one: list[str], other: list[str]) -> None:
    """The least cost of the transportation problem, as SciPy's linear programming finds it."""
    wanted, found = shares(colour(one)), shares(colour(other))
    costs = np.array([[delta_e(a, b) for b, _ in found] for a, _ in wanted])
    rows, columns = costs.shape
    balance = np.zeros((rows + columns, rows * columns))
    for cell in range(rows * columns):
        balance[cell // columns, cell] = 1
        balance[rows + cell % columns, cell] = 1
    amounts = [share for _, share in wanted] + [share for _, share in found]
    best = linprog(costs.ravel(), A_eq=balance, b_eq=amounts).fun / 100
    assert colour_difference(colour(one), colour(other)) == pytest.approx(best, abs=1e-6)


@given(COLOURS, COLOURS)
def test_comparing_is_the_same_from_both_sides(one: Colour, other: Colour) -> None:
    assert colour_difference(one, other) == pytest.approx(colour_difference(other, one))
    distances = TRADE.marking_distances
    assert marking_difference(one, other, distances) == marking_difference(other, one, distances)


@given(COLOURS)
def test_a_colour_differs_in_nothing_from_itself(one: Colour) -> None:
    assert colour_difference(one, one) in (0.0, None)
    assert marking_difference(one, one, TRADE.marking_distances) == 0.0


@given(st.lists(COLOURS, min_size=1, max_size=3))
def test_what_is_wound_together_shows_the_shades_of_each(several: list[Colour]) -> None:
    seen = wind_together(several)
    assert set(seen.hexes) <= {shade for one in several for shade in one.hexes}
    assert all(one.hexes[0] in seen.hexes for one in several)
    if len(several) == 1:
        assert seen == several[0]
