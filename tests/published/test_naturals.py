"""Hook sizes for naturals' bodies, and turns by water, against hook tables and a handbook.

The sizes were worked by hand: the row of the table whose shank is nearest, in ratio, to the body.
"""

from __future__ import annotations

import pytest

from tests.real import fly, rulebook
from variants.design import Request, build_problem
from variants.model import Box, Hook
from variants.model.region import CLARITIES, WATERS, Natural, Region, Water, WaterRules
from variants.regions import Place, RegionalTarget, hook_size_for, load_weights
from variants.rulebook import Count

#: Shanks of old British hooks without the eye, in mm, by size: from memory, as the table states.
OLD_LENGTHS = {8: 15.9, 9: 14.3, 10: 12.7, 11: 11.9, 12: 11.1, 13: 10.3, 14: 9.5, 15: 8.7, 16: 7.9}


@pytest.mark.source("hook-chart-ratio", "size 12 has a gape of 5 mm and a shank of twice the gape")
@pytest.mark.parametrize(
    ("body_mm", "size"),
    [
        (23.0, 2),  # 23.21 for a 2, 21.34 for a 3
        (16.0, 6),  # 16.57 for a 6, 15.24 for a 7: 1.036 against 1.050
        (14.0, 8),  # 14.01
        (12.0, 10),  # 11.83
        (10.0, 12),  # 10.00
        (9.6, 12),  # 10.00 for a 12, 9.19 for a 13: 1.042 against 1.045
        (8.5, 14),  # 8.45
        (7.0, 16),  # 7.14
        (6.0, 18),  # 6.03
        (5.0, 20),  # 5.10
        (4.2, 22),  # 4.31 for a 22, 3.96 for a 23
        (3.0, 24),  # 3.64 for a 24, the smallest there is
    ],
)
def test_the_hook_for_a_body_is_the_one_of_the_nearest_shank(body_mm: float, size: int) -> None:
    assert hook_size_for(body_mm, rulebook().scale) == size


@pytest.mark.source("hook-chart-ratio", "old lengths from memory, as rules/hooks/scales.tsv states")
@pytest.mark.parametrize(("body_mm", "size"), [(9.5, 14), (8.0, 16), (12.0, 11), (15.0, 9)])
def test_the_same_rule_on_old_hooks(body_mm: float, size: int) -> None:
    scale = {one: Hook(one, 5.0, shank, 1.0, 0.4) for one, shank in OLD_LENGTHS.items()}
    assert hook_size_for(body_mm, scale) == size


def asked(
    style: str, parts: dict[str, str], part: str, count: str, water: Water
) -> tuple[int, int, int]:
    """Return the count that a target asks of the stiffest feather, with its two ends."""
    natural = Natural("olive", "mayflies", "adult", (5,), (6.0, 8.0))
    place = Place(Region("Trial", "", (water,), (natural,)), water, ())
    base = fly({"hook": "dry fly hook", **parts}, style)
    design = build_problem(Request(base, Box(()), water=water.speed), rulebook())
    rule = next(
        one
        for one in design.rules
        if isinstance(one, Count) and (one.part, one.count) == (part, count)
    )
    trade = rulebook().trade
    target = RegionalTarget(
        place, natural, trade.styles[base.style], rulebook(), load_weights(trade)
    )
    found = target.count_for(rule, {"stiffness": 4})
    assert found is not None
    return found


def water(speed: str, clarity: str) -> Water:
    return Water("Trial", speed, clarity, "smooth", 1.0, WaterRules())


DRY = dict.fromkeys(("hackle", "tail"), "rooster-neck-dry")


@pytest.mark.source("gregg-1940", "p.30-31, six or seven turns; p.8, three or four fibres")
@pytest.mark.parametrize(
    ("style", "part", "count", "ranges"),
    [
        # Gregg p.30-31 has six or seven on ordinary water; slow and fast: common practice.
        ("dry upright", "hackle", "turns", {"slow": (3, 5), "medium": (5, 8), "fast": (8, 12)}),
        # Gregg p.8 has three or four; the rest common practice.
        ("dry upright", "tail", "fibres", {"slow": (3, 6), "medium": (4, 10), "fast": (6, 12)}),
        # Common practice: calm and fast.
        ("parachute", "hackle", "turns", {"slow": (3, 4), "fast": (5, 6)}),
        # Common practice; Gregg p.63 winds two or three on a flat-winged ant.
        ("spinner", "hackle", "turns", {"slow": (2, 3), "medium": (2, 4), "fast": (3, 5)}),
    ],
)
def test_turns_and_fibres_stay_within_the_ranges_of_each_water(
    style: str, part: str, count: str, ranges: dict[str, tuple[int, int]]
) -> None:
    for speed, (low, high) in ranges.items():
        found = [asked(style, DRY, part, count, water(speed, one))[0] for one in CLARITIES]
        assert found == sorted(found)
        assert (found[0], found[-1]) == (low, high)


@pytest.mark.source("gregg-1940", "p.23, four or five turns on a winged wet")
def test_a_winged_wet_may_take_four_or_five_turns_where_water_runs() -> None:
    parts = {"hackle": "hen neck hackle"}
    ends = {
        speed: asked("winged wet", parts, "hackle", "turns", water(speed, "clear"))[1:]
        for speed in WATERS
    }
    # Two or three are usual today (common practice), so that his are the full end.
    assert ends == {"slow": (2, 3), "medium": (2, 4), "fast": (3, 5)}
