"""Random measures and hook sizes, written as a tyer writes them."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from variants.units import unit_names

_DECIMALS = st.builds("{}.{:03}".format, st.integers(0, 999), st.integers(0, 999))
_FRACTIONS = st.builds("{}/{}".format, st.integers(1, 64), st.integers(1, 64))
_MIXED = st.builds("{} {}".format, st.integers(1, 12), _FRACTIONS)

#: A number as text: ``7``, ``2.125``, ``7/64``, ``1 1/4``.
NUMBERS = st.one_of(st.integers(0, 9999).map(str), _DECIMALS, _FRACTIONS, _MIXED)
UNITS = st.sampled_from(unit_names())
#: Two numbers, the smaller first, that four digits tell exactly.
RANGES = st.lists(st.integers(0, 999).map(lambda n: n / 4), min_size=2, max_size=2).map(
    lambda bounds: (min(bounds), max(bounds))
)
#: Some hook sizes of the tables.
SIZES = st.sets(st.integers(2, 24), min_size=1, max_size=8).map(lambda some: tuple(sorted(some)))


def number_of(text: str) -> float:
    """Return what a number as text says."""
    return float(sum(Fraction(word) for word in text.split()))
