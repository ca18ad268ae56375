"""Units against their definitions: inch, denier, tex, wire gauges, thread diameters, hooks."""

from __future__ import annotations

import math

import pytest

from variants.model import Trade
from variants.units import (
    awg_diameter_mm,
    denier,
    millimetres,
    parse_quantity,
    thread_diameter_mm,
)


@pytest.mark.source("inch-1959", "page 5348")
@pytest.mark.parametrize(
    ("text", "mm"),
    [("1 in", 25.4), ("7/64 in", 2.778125), ("1 1/4 in", 31.75), ("1/16 in", 1.5875)],
)
def test_inches_are_exactly_25_4_mm(text: str, mm: float) -> None:
    assert millimetres(parse_quantity(text)) == pytest.approx(mm, rel=1e-12)


@pytest.mark.source("iso-1144", "definitions: tex is g/km, denier g/9 km")
@pytest.mark.parametrize(
    ("text", "expected"), [("1 tex", 9.0), ("70 denier", 70.0), ("10 dtex", 9.0), ("8 tex", 72.0)]
)
def test_thread_weights_follow_the_tex_system(text: str, expected: float) -> None:
    assert denier(parse_quantity(text)) == pytest.approx(expected, rel=1e-12)


@pytest.mark.source("iso-2947", "tex = denier / 9; from memory")
@pytest.mark.parametrize(
    ("weight", "tex"), [("9 denier", 1.0), ("70 denier", 7.778), ("140 den", 15.556)]
)
def test_denier_is_nine_times_tex(weight: str, tex: float) -> None:
    assert parse_quantity(weight).to("tex").magnitude == pytest.approx(tex, abs=5e-4)
    assert parse_quantity(weight).to("dtex").magnitude == pytest.approx(10 * tex, abs=5e-3)


@pytest.mark.source("astm-b258", "definition: 0000 is 0.46 in, 36 is 0.005 in; from memory")
def test_the_wire_gauge_hangs_on_two_sizes() -> None:
    assert awg_diameter_mm(-3) == pytest.approx(0.46 * 25.4, rel=1e-12)
    assert awg_diameter_mm(36) == pytest.approx(0.005 * 25.4, rel=1e-12)


@pytest.mark.source("astm-b258", "table 1, diameters in thousandths of an inch; from memory")
@pytest.mark.parametrize(
    ("gauge", "mils"),
    [(10, 101.9), (20, 32.0), (24, 20.1), (28, 12.6), (30, 10.0), (32, 8.0), (34, 6.3), (38, 4.0)],
)
def test_wire_gauges_round_to_the_table(gauge: int, mils: float) -> None:
    assert round(awg_diameter_mm(gauge) / 0.0254, 1) == mils


@pytest.mark.source("astm-b258", "diameters by the formula; constants from memory")
@pytest.mark.parametrize(
    ("gauge", "mm"), [(22, 0.6438), (28, 0.3211), (32, 0.2019), (36, 0.1270), (40, 0.0799)]
)
def test_wire_gauges_follow_the_formula(gauge: int, mm: float) -> None:
    assert awg_diameter_mm(gauge) == pytest.approx(mm, abs=5e-5)


@pytest.mark.source("morton-hearle-2008", "densities of table 5.1; diameters derived")
@pytest.mark.parametrize(
    ("weight", "density", "mm"),
    [(70, 1.14, 0.093), (70, 1.38, 0.085), (140, 1.38, 0.120), (210, 0.97, 0.175)],
)
def test_thread_diameter_follows_from_weight_and_density(
    weight: float, density: float, mm: float
) -> None:
    assert thread_diameter_mm(weight, density) == pytest.approx(mm, abs=5e-4)
    # Mass of 9000 m of that round thread is its denier again.
    area_mm2 = math.pi / 4 * thread_diameter_mm(weight, density) ** 2
    assert area_mm2 * density * 9000 == pytest.approx(weight)


@pytest.mark.source("hook-chart-ratio", "size 12: gape 5 mm, shank 10 mm, shank twice the gape")
def test_the_hook_scale_is_anchored_on_size_12(real_trade: Trade) -> None:
    hook = real_trade.hooks["model"][12]
    assert (hook.gape_mm, hook.shank_mm) == (5.0, 10.0)
    for one in real_trade.hooks["model"].values():
        assert one.shank_mm == pytest.approx(2 * one.gape_mm, abs=0.011)


@pytest.mark.source("hook-chart-shank", "shank = twice the gape and the width of the eye")
def test_the_other_scale_adds_the_eye(real_trade: Trade) -> None:
    for one in real_trade.hooks["shank-plus-eye"].values():
        assert one.shank_mm == pytest.approx(2 * one.gape_mm + one.eye_mm, abs=0.02)
