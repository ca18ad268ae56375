"""What an explanation tells can be worked out anew from the fly, the box and the rule."""

from __future__ import annotations

import math
import warnings
from collections.abc import Iterator
from functools import cache
from typing import Any

import numpy as np
import pytest

from tests.real import EXAMPLES, example, example_box, propose
from variants.explain import Judgement, explain
from variants.model import Candidate
from variants.rulebook.kinds import (
    Agree,
    Count,
    Girth,
    Measure,
    Pair,
    Quality,
    Rule,
)

with warnings.catch_warnings():
    # It tells at import which of its optional parts are not installed.
    warnings.simplefilter("ignore")
    import colour

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))
Chosen = dict[str, Candidate]


@cache
def judged(name: str) -> tuple[tuple[Chosen, Judgement], ...]:
    """Every judgement of the first variants of a dressing, in each water, with the fly it is of."""
    found = []
    for water in ("slow", "medium", "fast"):
        design, variants = propose(example(name), example_box(), water=water, best=6)
        for variant in variants:
            for reason in explain(design, variant).parts:
                found += [(dict(variant.chosen), judgement) for judgement in reason.judgements]
    return tuple(found)


def of_kind(name: str, kind: type[Rule]) -> Iterator[tuple[Chosen, Any, Any]]:
    for chosen, judgement in judged(name):
        if isinstance(judgement.rule, kind):
            yield chosen, judgement.rule, judgement.finding


def test_the_examples_bring_every_kind_that_tells_numbers() -> None:
    kinds = {type(judgement.rule) for name in NAMES for _fly, judgement in judged(name)}
    assert kinds >= {Measure, Quality, Agree, Girth, Count, Pair}


@pytest.mark.parametrize("name", NAMES)
def test_a_measure_is_its_share_of_the_hook(name: str) -> None:
    for chosen, rule, finding in of_kind(name, Measure):
        (number,) = finding.numbers
        hook = chosen["hook"].attributes
        unit = 1.0 if rule.of == "mm" else float(hook[f"{rule.of}_mm"])  # type: ignore[arg-type]
        assert number.target == pytest.approx(rule.nominal * unit)
        low, high = rule.low * unit, rule.high * unit
        bounds = (None, None) if high == math.inf else pytest.approx((low, high))
        assert (number.low, number.high) == bounds
        if low * 0.999 <= number.value <= high * 1.001:
            off = (number.value - number.target) / number.target * 10
            price = rule.long_cost if off > 0 else rule.short_cost
            assert finding.cost == pytest.approx(abs(off) * price * 1000, abs=0.51)
        else:
            assert finding.cost == round(rule.weight * 1000)


@pytest.mark.parametrize("name", NAMES)
def test_a_length_is_one_that_the_owner_has(name: str) -> None:
    for chosen, rule, finding in of_kind(name, Measure):
        if rule.attribute != "length":
            continue
        for items in chosen[rule.part].items:
            if items[0].length_mm is not None:
                shortest, longest = items[0].length_mm
                value = finding.numbers[0].value
                assert value <= longest
                assert rule.trimmed or value >= shortest


@pytest.mark.parametrize("name", NAMES)
def test_a_count_lies_within_its_bounds_and_as_near_the_dressing_as_they_allow(name: str) -> None:
    for _fly, rule, finding in of_kind(name, Count):
        (number,) = finding.numbers
        assert number.low <= number.value <= number.high
        assert number.value in (number.target, number.low, number.high)
        off = abs(number.value - number.target) / number.target * 10 if number.target else 0.0
        assert finding.cost == pytest.approx(off * rule.change_cost * 1000, abs=0.51)


@pytest.mark.parametrize("name", NAMES)
def test_a_girth_is_no_thinner_than_the_wire_and_the_strand_on_both_sides(name: str) -> None:
    for chosen, _rule, finding in of_kind(name, Girth):
        (number,) = finding.numbers
        wire = float(chosen["hook"].attributes["wire_mm"])  # type: ignore[arg-type]
        body = chosen["body"].attributes
        if body["class"] in ("herl", "yarn", "wire", "tinsel", "stripped quill"):
            strand = float(body["thickness_mm"])  # type: ignore[arg-type]
            assert number.value >= wire + 2 * strand - 1e-9
        assert number.value >= wire


@pytest.mark.parametrize("name", NAMES)
def test_a_difference_of_shade_is_the_reference_librarys(name: str) -> None:
    for chosen, rule, finding in of_kind(name, Agree):
        if rule.attribute != "shade":
            continue
        first, second = (lab(chosen[part]) for part in (rule.first, rule.second))
        apart = float(colour.delta_E(first, second, method="CIE 2000"))
        assert finding.numbers[0].value == pytest.approx(apart, abs=0.02)
        share = min(1.0, max(0.0, (apart - rule.within) / rule.scale))
        assert finding.cost == pytest.approx(share * (rule.weight or 0) * 1000, abs=2)


def lab(candidate: Candidate) -> Any:
    shade = str(candidate.attributes["shade"])
    rgb = np.array([int(shade[place : place + 2], 16) / 255 for place in (1, 3, 5)])
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    return colour.XYZ_to_Lab(colour.sRGB_to_XYZ(rgb), white)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_soft_rule_costs_is_never_more_than_its_weight(name: str) -> None:
    for _fly, judgement in judged(name):
        rule = judgement.rule
        if not isinstance(rule, Measure | Count):
            assert judgement.finding.cost <= round((rule.weight or 0) * 1000)


@pytest.mark.parametrize("name", NAMES)
def test_rules_that_are_set_aside_are_those_the_dressing_breaks(name: str) -> None:
    design, found = propose(example(name), example_box(), best=1)
    written = {part: candidate.attributes for part, candidate in design.base.items()}
    for rule in design.waived:
        finding = rule.judge(written)
        assert finding.cost > 0 or not finding.kept
    if found:
        told = explain(design, found[0])
        assert told.waived == design.waived
        judged_ids = {one.rule.id for reason in told.parts for one in reason.judgements}
        assert not judged_ids & {rule.id for rule in design.waived}
