"""Measures as text: what is read, what is refused and why, and the same measure read again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.strategies.measures import NUMBERS, RANGES, UNITS, number_of
from variants.units import (
    UnitError,
    denier,
    millimetres,
    parse_quantity,
    parse_range,
    registry,
    unit_names,
)

HOOK_MM = {"gape": 5.0, "shank": 10.0, "eye": 1.8}


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("9 mm", 9.0),
        ("0.9cm", 9.0),
        (" .5  in ", 12.7),
        ("1\t1/4 in", 31.75),
        ("1.5 gape", 7.5),
        ("1 shank", 10.0),
        ("2 eyes", 3.6),
    ],
)
def test_lengths(text: str, mm: float) -> None:
    assert millimetres(parse_quantity(text), HOOK_MM) == pytest.approx(mm)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "'' is not a number with a unit"),
        ("9", "'9' has no unit"),
        ("6-8", "'6-8' has no unit"),
        ("9 kmm", "'kmm' is not a unit that Flykin knows"),
        ("9 min", "'min' is not a unit that Flykin knows"),
        ("9 MM", "'MM' is not a unit that Flykin knows"),
        ("-9 mm", "'-9 mm' is less than nothing"),
        ("−9 mm", "'−9 mm' is less than nothing"),
        ("1/0 mm", "'1/0' divides by zero"),
        ("9 mm per s", "'9 mm per s' is not a number with a unit"),
        ("2**9 mm", "'2**9 mm' is not a number with a unit"),
        ("nan mm", "'nan mm' is not a number with a unit"),
        ("1e9 mm", "'1e9 mm' is not a number with a unit"),
        ("٣ mm", "'٣ mm' is not a number with a unit"),
        ("9\x1b mm", "'9\N{REPLACEMENT CHARACTER} mm' is not a number with a unit"),
        ("9" * 99, f"'{'9' * 60}…' is not a number with a unit"),
    ],
)
def test_what_is_no_measure_is_told(text: str, said: str) -> None:
    with pytest.raises(UnitError) as refused:
        parse_quantity(text)
    assert str(refused.value) == said


def test_an_unknown_unit_is_kept_for_a_suggestion() -> None:
    with pytest.raises(UnitError) as refused:
        parse_quantity("9 furlong")
    assert refused.value.unit == "furlong"


@pytest.mark.parametrize("text", ["6-8 mm", "6–8 mm", "6 to 8 mm", " 6 - 8mm"])
def test_a_range_is_read_low_first(text: str) -> None:
    low, high = parse_range(text)
    assert (millimetres(low), millimetres(high)) == (6.0, 8.0)


def test_a_range_backwards_is_told() -> None:
    with pytest.raises(UnitError, match="'8-6 mm' runs backwards: the smaller measure comes first"):
        parse_range("8-6 mm")


@pytest.mark.parametrize("unit", unit_names())
def test_every_unit_that_is_named_is_read(unit: str) -> None:
    assert parse_quantity(f"1 {unit}").magnitude == 1.0


def test_a_length_in_parts_of_a_hook_needs_a_hook() -> None:
    with pytest.raises(UnitError, match="told in parts of a hook, and no hook is given"):
        millimetres(parse_quantity("1.5 gape"))


@pytest.mark.parametrize("text", ["9 feathers", "70 denier", "1 g"])
def test_what_is_no_length_is_told(text: str) -> None:
    with pytest.raises(UnitError, match="is not a length"):
        millimetres(parse_quantity(text), HOOK_MM)


def test_what_is_no_thread_weight_is_told() -> None:
    with pytest.raises(UnitError, match="is not a thread weight"):
        denier(parse_quantity("9 mm"))


@given(NUMBERS, UNITS)
def test_a_measure_is_the_number_it_says(number: str, unit: str) -> None:
    assert parse_quantity(f"{number} {unit}").magnitude == pytest.approx(number_of(number))


@given(NUMBERS, UNITS)
def test_a_measure_written_out_reads_the_same(number: str, unit: str) -> None:
    once = parse_quantity(f"{number} {unit}")
    again = parse_quantity(f"{once.magnitude:.12f} {once.units}")
    assert again.check(once.dimensionality)
    assert again.to_base_units().magnitude == pytest.approx(once.to_base_units().magnitude)


@given(RANGES, UNITS)
def test_a_range_written_out_reads_the_same(bounds: tuple[float, float], unit: str) -> None:
    low, high = parse_range(f"{bounds[0]:g}-{bounds[1]:g} {unit}")
    assert (low.magnitude, high.magnitude) == bounds
    assert parse_range(f"{low.magnitude:g} to {high.magnitude:g} {low.units}") == (low, high)


@given(st.sampled_from(unit_names()), st.sampled_from(unit_names()))
def test_units_that_may_be_added_are_of_one_kind(one: str, other: str) -> None:
    first, second = registry().Quantity(1.0, one), registry().Quantity(1.0, other)
    if first.check(second.dimensionality):
        assert (first + second).to(one).magnitude > 1.0
