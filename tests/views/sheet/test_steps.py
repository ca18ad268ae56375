"""The steps at the vice: in the order that the rules ask, with the lengths that the rules test."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.build import complaint
from tests.pictures.flies import STYLES, styled
from tests.real import fly, propose, rulebook
from variants.design import DesignProblem
from variants.geometry import FlyGeometry, fly_geometry, load_layout
from variants.model import Box
from variants.rulebook.kinds.order import Order
from variants.views.sheet import Step, load_steps, steps_of

LAYOUT = load_layout()
TABLE = load_steps(rulebook().trade)


def taken(style: str, size: int = 14) -> tuple[DesignProblem, FlyGeometry, tuple[Step, ...]]:
    design, _ = propose(styled(style, size), Box(()))
    geometry = fly_geometry(design, LAYOUT)
    return design, geometry, steps_of(geometry, design.base, rulebook(), LAYOUT, TABLE)


def test_steps_keep_the_order_that_the_rules_of_the_styles_ask() -> None:
    asked = [pair for style in STYLES for pair in ordered(style)]
    assert len(asked) > 20


def ordered(style: str) -> list[tuple[str, str]]:
    """What the rules ask to be tied before what, after seeing that it is."""
    design, _geometry, steps = taken(style)
    order = [step.part for step in steps]
    fly = {part: one.attributes for part, one in design.base.items()}
    asked = [
        (rule.part, later)
        for rule in design.rules
        if isinstance(rule, Order) and rule.part in order
        and all(condition.holds(fly) for condition in rule.when)
        for later in rule.before
        if later in order
    ]  # fmt: skip
    for first, second in asked:
        assert order.index(first) < order.index(second), (first, second)
    return asked


@pytest.mark.parametrize("style", STYLES)
def test_every_part_is_tied_and_the_finish_is_last(style: str) -> None:
    design, _geometry, steps = taken(style)
    assert {step.part for step in steps} == {*design.base, "finish"}
    assert steps[0].part == "hook"
    assert steps[-1].part == "finish"
    assert not any(sign in step.says for step in steps for sign in "{}[]")


@pytest.mark.parametrize("size", range(10, 21, 2))
@pytest.mark.parametrize("style", STYLES)
def test_targets_are_the_lengths_that_the_layout_computes(style: str, size: int) -> None:
    _design, geometry, steps = taken(style, size)
    told = {step.part: step.target for step in steps if step.target is not None}
    long = {part for part, shape in geometry.parts.items() if shape.length_mm is not None}
    assert long
    assert set(told) == long
    for part, target in told.items():
        assert target.right_mm == geometry.parts[part].right_mm
        assert f"{target.right_mm:.1f} mm" in target.words


def test_what_is_wound_through_the_body_is_wound_when_the_body_is_there() -> None:
    _design, _geometry, steps = taken("palmer")
    order = [step.part for step in steps]
    assert order == [
        "hook", "hook", "thread", "rib", "body", "palmer", "rib", "hackle", "finish", "finish",
    ]  # fmt: skip


def test_a_wing_case_is_drawn_over_last() -> None:
    _design, _geometry, steps = taken("nymph")
    order = [step.part for step in steps]
    assert order[-5:] == ["thorax", "legs", "wing-case", "finish", "finish"]
    assert order.index("wing-case") < order.index("thorax")


def test_a_bivisible_has_no_step_that_speaks_of_a_body_or_a_rib() -> None:
    # Common practice: hackle alone, tied in at the bend and wound forward.
    parts = {
        "hook": "dry fly hook",
        "thread": "polyester tying thread, black",
        "palmer": "rooster-neck-dry, brown",
        "hackle": "rooster-neck-dry, white",
    }
    design, _ = propose(fly(parts, "palmer"), Box(()))
    steps = steps_of(fly_geometry(design, LAYOUT), design.base, rulebook(), LAYOUT, TABLE)
    palmer = [step.says for step in steps if step.part == "palmer"]
    assert "by its tip at the bend" in palmer[0]
    assert "along the shank" in palmer[1]
    assert not any(word in step.says for step in steps for word in ("over the body", "the rib"))


def test_one_turn_is_no_turns() -> None:
    parts = {
        "hook": "wet fly hook",
        "thread": "silk tying thread, black",
        "body": "silk floss, orange",
        "hackle": "partridge-brown|turns = 1",
    }
    design, _ = propose(fly(parts, "soft hackle"), Box(()))
    geometry = fly_geometry(design, LAYOUT)
    steps = steps_of(geometry, design.base, rulebook(), LAYOUT, TABLE)
    assert any("1 turn," in step.says for step in steps)


def test_a_class_of_stuff_is_told_its_own_way() -> None:
    for material, said in (
        ("duck wing quill", "Tie in a matched pair of slips"),
        ("wood duck flank", "into a bunch"),
        ("cock hackle tips", "back to back"),
    ):
        parts = {
            "hook": "dry fly hook",
            "thread": "polyester tying thread, black",
            "body": "mole fur",
            "wing": material,
            "hackle": "rooster-neck-dry, brown",
        }
        design, _ = propose(fly(parts), Box(()))
        geometry = fly_geometry(design, LAYOUT)
        steps = steps_of(geometry, design.base, rulebook(), LAYOUT, TABLE)
        assert said in next(step.says for step in steps if step.part == "wing")


HEADER = "style\tpart\tstep\tstuff\twhen\tafter\tbefore\tsays\tsource\n"


def table(folder: Path, rows: str) -> Path:
    (folder / "bench").mkdir()
    path = folder / "bench" / "steps.tsv"
    path.write_text(HEADER + rows, encoding="utf-8")
    return path


def test_a_row_of_the_users_replaces_ours_and_a_new_one_joins_it(tmp_path: Path) -> None:
    table(
        tmp_path,
        "any\ttail\ttie in\tany\t\t\t\tSet {stuff} aslant.\thouse\n"
        "any\ttail\tturn\tany\t\tbody\t\tTurn the tail up.\thouse\n",
    )
    own = load_steps(rulebook().trade, [tmp_path])
    design, _ = propose(styled("winged wet", 14), Box(()))
    geometry = fly_geometry(design, LAYOUT)
    steps = steps_of(geometry, design.base, rulebook(), LAYOUT, own)
    tail = [step.says for step in steps if step.part == "tail"]
    assert tail == ["Set golden tippet golden pheasant tippet aslant.", "Turn the tail up."]
    order = [step.part for step in steps]
    assert order.index("body") < len(order) - 1 - order[::-1].index("tail")


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("any\ttail\ttie in\tany\t\t\t\tTie in {stuf}.\thouse\n",
         "steps.tsv:2: says: 'stuf' is not a word of a step"),
        ("any\ttail\ttie in\tany\t\t\t\tTie in [six.\thouse\n", "a bracket stands alone"),
        ("any\ttial\ttie in\tany\t\t\t\tTie it in.\thouse\n", "'tial' is not known here"),
        ("any\ttail\ttie in\tany\t\tbdy\t\tTie it in.\thouse\n", "'bdy' is not a part"),
        ("any\ttail\ttie in\tany\tno rob\t\t\tTie it in.\thouse\n", "'rob' is not a part"),
        ("any\ttail\ttie in\tany\twing of hare\t\t\tTie it in.\thouse\n",
         "'hare' is not a class of stuff or a material"),
        ("any\ttail\ttie in\tany\t\t\t\t\thouse\n", "the says is missing"),
        ("any\ttail\t\tany\t\t\t\tTie it in.\thouse\n", "the step is missing"),
        ("moon\ttail\ttie in\tany\t\t\t\tTie it in.\thouse\n", "'moon' is not known here"),
    ],
)  # fmt: skip
def test_a_wrong_row_is_told_with_its_line(tmp_path: Path, row: str, said: str) -> None:
    table(tmp_path, row)
    told = complaint(lambda: load_steps(rulebook().trade, [tmp_path]))
    assert said in told
    assert "steps.tsv" in told


def test_steps_that_wait_for_each_other_are_told(tmp_path: Path) -> None:
    table(
        tmp_path,
        "any\ttail\ttie in\tany\t\tbody\t\tSet it.\thouse\n"
        "any\tbody\tmake\tdubbed\t\ttail\t\tMake it.\thouse\n",
    )
    own = load_steps(rulebook().trade, [tmp_path])
    design, _ = propose(styled("dry upright", 14), Box(()))
    geometry = fly_geometry(design, LAYOUT)
    told = complaint(lambda: steps_of(geometry, design.base, rulebook(), LAYOUT, own))
    assert "these steps wait for each other" in told
