"""A fly laid out: inside its hook, its lengths those of the rules, its parts where they belong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.benchmarks.generator import random_box, random_dressing
from tests.real import EXAMPLES, example, example_box, fly, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import search
from variants.geometry import FlyGeometry, fly_geometry, load_layout
from variants.model import Dressing
from variants.rulebook import LENGTH, Measure

LAYOUT = load_layout()
NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))


def designed(dressing: Dressing, **wishes: object) -> DesignProblem:
    return build_problem(Request(dressing, example_box(), **wishes), rulebook())  # type: ignore[arg-type]


def check(geometry: FlyGeometry, design: DesignProblem) -> None:
    shank = geometry.hook.shank_mm
    for part, shape in geometry.parts.items():
        assert shape.rear_mm <= shape.front_mm <= shank + 1e-9, part
        if part != "tag":
            assert shape.rear_mm >= 0, part
        if shape.cone is not None:
            assert shape.cone.rear_mm >= geometry.hook.wire_mm
            assert shape.cone.front_mm >= geometry.hook.wire_mm
        if shape.low_mm is not None and shape.high_mm is not None:
            assert shape.right_mm is not None
            assert shape.low_mm <= shape.right_mm <= shape.high_mm
    rules = {rule.id: rule for rule in design.rules}
    for part, shape in geometry.parts.items():
        if shape.rule:
            rule = rules[shape.rule]
            assert isinstance(rule, Measure)
            assert (rule.part, rule.attribute) == (part, LENGTH)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("size", [10, 14, 20])
def test_every_example_is_laid_out_in_every_size(name: str, size: int) -> None:
    design = designed(replace(example(name), sizes=(size,), size=size))
    check(fly_geometry(design, LAYOUT), design)


def test_variants_are_laid_out_with_the_lengths_that_the_rules_tested() -> None:
    for name in NAMES:
        design = designed(example(name))
        for variant in search(design, 3).variants:
            geometry = fly_geometry(design, LAYOUT, variant)
            check(geometry, design)
            fly = {part: one.attributes for part, one in variant.chosen.items()}
            for rule in design.rules:
                shape = geometry.parts.get(rule.part) if isinstance(rule, Measure) else None
                if shape is None or shape.rule != rule.id:
                    continue
                numbers = rule.judge(fly).numbers
                if numbers:
                    assert shape.length_mm == pytest.approx(numbers[0].value)


@pytest.mark.parametrize("style", sorted(rulebook().trade.styles))
def test_every_part_of_every_style_has_its_place(style: str) -> None:
    for part in rulebook().trade.styles[style].parts:
        if part.part not in ("head",):
            place = LAYOUT.place([style], [part.part])
            assert place.rear <= place.front
            assert place.source


def test_every_class_of_stuff_that_is_built_into_bodies_has_a_build() -> None:
    bodies = {
        one.kind
        for one in rulebook().trade.materials.values()
        if one.functions & {"body", "thorax", "tag", "butt"}
    }
    assert bodies <= set(LAYOUT.builds)


def test_random_flies_are_laid_out_too() -> None:
    for seed in range(40):
        dressing = random_dressing(rulebook(), seed)
        design = build_problem(Request(dressing, random_box(rulebook(), 30, seed)), rulebook())
        check(fly_geometry(design, LAYOUT), design)


def test_a_larger_hook_makes_every_part_larger() -> None:
    small, large = (
        fly_geometry(designed(replace(example("ferrymans-dun"), sizes=(size,), size=size)), LAYOUT)
        for size in (16, 12)
    )
    for part, shape in small.parts.items():
        assert (shape.length_mm or 0) <= (large.parts[part].length_mm or 0)
        assert shape.front_mm < large.parts[part].front_mm


def test_hackle_is_wound_on_the_body_that_it_stands_on() -> None:
    geometry = fly_geometry(designed(example("bellringer")), LAYOUT)
    hackle, thorax = geometry.parts["hackle"].cone, geometry.parts["thorax"].cone
    assert hackle is not None
    assert thorax is not None
    assert hackle.front_mm == thorax.front_mm


# From over the hook's point forward, half to two thirds of the shank: common practice.
def test_a_spiders_body_without_a_tail_is_half_to_two_thirds_of_the_shank() -> None:
    parts = {
        "hook": "wet fly hook",
        "thread": "silk tying thread, orange",
        "body": "silk floss, orange",
        "hackle": "brown partridge back",
    }
    for more, low, high in (({}, 0.5, 0.67), ({"tail": "brown partridge back"}, 0.7, 1.0)):
        base = fly({**parts, **more}, "soft hackle")
        laid = fly_geometry(designed(base), LAYOUT)
        body = laid.parts["body"]
        share = (body.front_mm - body.rear_mm) / laid.hook.shank_mm
        assert low <= share <= high
