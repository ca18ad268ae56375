"""A gauge set right: least squares against SciPy, and what a correction does to a box."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from tests.real import box, rulebook
from variants.geometry.gauge import correct_lengths, fit_gauge, read_gauge
from variants.geometry.targets import gauge_size, inch_fraction, targets
from variants.reading import InputError

LENGTHS = st.floats(2.0, 40.0)


@given(st.lists(st.tuples(LENGTHS, st.floats(-1, 1)), min_size=3, max_size=12),
       st.floats(0.8, 1.2), st.floats(-1, 1))  # fmt: skip
def test_the_line_is_that_of_least_squares(
    told: list[tuple[float, float]], slope: float, offset: float
) -> None:
    pairs = [(known, offset + slope * known + error / 10) for known, error in told]
    assume(max(known for known, _ in pairs) - min(known for known, _ in pairs) > 1)
    gauge = fit_gauge(pairs)
    line = stats.linregress([known for known, _ in pairs], [read for _, read in pairs])
    assert gauge.slope == pytest.approx(line.slope)
    assert gauge.offset_mm == pytest.approx(line.intercept, abs=1e-9)
    rest = sum((read - line.intercept - line.slope * known) ** 2 for known, read in pairs)
    assert gauge.spread_mm == pytest.approx((rest / (len(pairs) - 2)) ** 0.5, abs=1e-9)


@given(st.lists(st.tuples(LENGTHS, LENGTHS), min_size=1, max_size=2), LENGTHS)
def test_correcting_undoes_reading(pairs: list[tuple[float, float]], length: float) -> None:
    gauge = fit_gauge(pairs)
    assert gauge.true_mm(gauge.reads_mm(length)) == pytest.approx(length)


def test_a_box_is_set_right_where_it_was_measured() -> None:
    stock = box(["cape,rooster-neck-dry,ginger,,6-8 mm,", "reel,tinsel-oval-gold,gold,,,2 m"])
    cape, reel = correct_lengths(stock, fit_gauge([(5.0, 5.5), (10.0, 10.5)])).items
    assert cape.length_mm == pytest.approx((5.5, 7.5))
    assert reel == stock.items[1]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("known,read\n", "at least one reading"),
        ("known,read\n5 mm,wide\n", "wide"),
        ("known,read\n5 g,5 mm\n", "lengths"),
        ("known\n5 mm\n", "read"),
        ("known,read\n5 mm,9 mm\n8 mm,6 mm\n10 mm,3 mm\n", "fall where the known lengths rise"),
    ],
)
def test_a_file_of_readings_that_will_not_do_is_refused(
    text: str, said: str, tmp_path: Path
) -> None:
    path = tmp_path / "gauge.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=said):
        read_gauge(path)


def test_targets_follow_the_hook() -> None:
    """Size 12 has a gape of 5 mm and a shank of 10 mm: masterflyfishing.net, Hooks, as tabled."""
    hook = rulebook().trade.materials["hook-dry-standard"]
    found = {one.part: one for one in targets(rulebook(), "dry-upright", [12], hook)}
    assert found["hackle"].right_mm == pytest.approx(7.5)
    assert found["hackle"].gauge_size == 12
    assert found["tail"].right_mm == pytest.approx(10.0)


def test_the_gauge_names_every_size_by_its_own_barb() -> None:
    for size, length in rulebook().gauge.items():
        assert gauge_size(rulebook(), length) == size


@given(st.floats(0.2, 100.0))
def test_a_fraction_of_an_inch_is_the_nearest_sixty_fourth(length: float) -> None:
    told = sum(
        float(int(word.split("/")[0]) / int(word.split("/")[1])) if "/" in word else float(word)
        for word in inch_fraction(length).split()
    )
    assert abs(told - length / 25.4) <= 1 / 128 + 1e-9
