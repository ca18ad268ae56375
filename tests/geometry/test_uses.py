"""What one fly uses: against handbook formulas and tables, and laws of more and less."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from tests.real import EXAMPLES, box, example, example_box, rulebook
from variants.design import Request, build_problem
from variants.design.search import search
from variants.geometry import Use, dressed_mass_mg, fly_geometry, load_layout, uses_of
from variants.geometry.formulas import cylinder_mg
from variants.model import Dressing
from variants.units import awg_diameter_mm

LAYOUT = load_layout()
NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


def uses(dressing: Dressing, **wishes: object) -> tuple[Use, ...]:
    design = build_problem(Request(dressing, example_box(), **wishes), rulebook())  # type: ignore[arg-type]
    return uses_of(fly_geometry(design, LAYOUT), design.base, LAYOUT)


def sized(name: str, size: int) -> Dressing:
    return replace(example(name), sizes=(size,), size=size)


def test_copper_wire_weighs_what_the_wire_tables_say() -> None:
    """AWG 30: 0.4536 kg/km of annealed copper (8.89 g/cm3), from memory of the wire tables."""
    assert cylinder_mg(1000.0, awg_diameter_mm(30), 8.89) == pytest.approx(453.6, rel=0.005)


@pytest.mark.parametrize("name", NAMES)
def test_every_use_is_told_with_its_formula_and_source(name: str) -> None:
    told = uses(example(name))
    assert {use.part for use in told} == {part.id for part in example(name).parts}
    for use in told:
        assert use.how
        assert use.source
        for amount in (use.pieces, use.length_mm, use.mass_mg):
            assert amount is None or amount > 0
        if use.mass_mg is not None and use.tied_mg is not None:
            assert use.tied_mg <= use.mass_mg


@pytest.mark.parametrize("name", NAMES)
def test_a_larger_fly_weighs_more(name: str) -> None:
    masses = [dressed_mass_mg(uses(sized(name, size))) for size in (18, 14, 10)]
    assert masses == sorted(masses)
    assert masses[0] < masses[-1]


def test_a_blend_is_shared_by_its_parts() -> None:
    design = build_problem(
        Request(example("ferrymans-dun"), example_box(), missing=frozenset({"body"})), rulebook()
    )
    blended = next(
        one
        for one in search(design, 40).variants
        if one.chosen["body"].attributes.get("blend") in ("1:3", "3:1")
    )
    geometry = fly_geometry(design, LAYOUT, blended)
    one, three = sorted(
        use.mass_mg or 0.0
        for use in uses_of(geometry, blended.chosen, LAYOUT)
        if use.part == "body"
    )
    assert one > 0
    assert three == pytest.approx(3 * one)


def test_fast_water_takes_more_hackle() -> None:
    stems = [
        next(
            use.length_mm
            for use in uses(example("packhorse-badger"), water=water)
            if use.part == "hackle"
        )
        for water in ("slow", "medium", "fast")
    ]
    assert stems[0] < stems[1] < stems[2]  # type: ignore[operator]


def test_a_hackle_stem_is_as_long_as_its_turns() -> None:
    """Six turns round the core and half the stem on each side, by hand."""
    design = build_problem(Request(example("ferrymans-dun"), example_box()), rulebook())
    geometry = fly_geometry(design, LAYOUT)
    shape = geometry.parts["hackle"]
    (hackle,) = (use for use in uses_of(geometry, design.base, LAYOUT) if use.part == "hackle")
    turns, stem = shape.counts["turns"], shape.strand_mm
    assert stem is not None
    assert hackle.length_mm == pytest.approx(
        ((turns * pi * (geometry.core_mm + stem)) ** 2
         + (shape.front_mm - shape.rear_mm) ** 2) ** 0.5
    )  # fmt: skip


def test_an_amount_is_told_in_the_unit_of_the_item() -> None:
    rows = [
        "reel,tinsel-oval-gold,gold,,,2 m",
        "fur,muskrat-dubbing,,,,3 g",
        "cape,rooster-neck-dry,ginger,,,40 feathers",
        "uncounted,muskrat-dubbing,,,,",
    ]
    reel, fur, cape, uncounted = box(rows).items
    use = uses(example("ferrymans-dun"))[0]
    told = replace(use, pieces=1.0, length_mm=50.0, mass_mg=2.0)
    assert told.of(reel) == pytest.approx(0.05)
    assert told.of(fur) == pytest.approx(0.002)
    assert told.of(cape) == 1.0
    assert told.of(uncounted) is None
    assert replace(told, mass_mg=None).of(fur) is None
