"""The answer as JSON has the shape that its documentation tells, whatever the answer is."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.real import EXAMPLES, example, example_box, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import search
from variants.explain import find_conflict
from variants.views.as_json import conflict_json, proposal_json

NAMES = sorted(path.stem for path in (EXAMPLES / "dressings").glob("*.toml"))
HEAD = {"version", "dressing", "ended", "proven", "bound", "complete", "unread", "variants"}
PART = {"way", "asked", "used", "ingredients", "items", "counts", "terms", "rules"}
RULE = {"id", "says", "source", "hard", "cost", "numbers"}
NUMBER = {"what", "value", "low", "high", "target", "unit"}


def asked(name: str, **wishes: Any) -> DesignProblem:
    return build_problem(Request(example(name), example_box(), **wishes), rulebook())


def through_text(answer: dict[str, Any]) -> dict[str, Any]:
    back: dict[str, Any] = json.loads(json.dumps(answer, allow_nan=False))
    assert back == answer, "the answer holds what JSON can't"
    return back


@pytest.mark.parametrize("name", NAMES)
def test_a_proposal_has_the_documented_shape(name: str) -> None:
    design = asked(name, water="fast")
    result = search(design, 4)
    answer = through_text(proposal_json(design, result, 4))
    assert set(answer) == HEAD | {"waived"}
    assert set(answer["dressing"]) == {"name", "style", "sizes", "water"}
    for variant in answer["variants"]:
        assert set(variant) == {"rank", "like", "departure", "changed", "parts"}
        for part in variant["parts"].values():
            assert set(part) == PART
            assert all(set(rule) == RULE for rule in part["rules"])
            assert all(set(one) == NUMBER for rule in part["rules"] for one in rule["numbers"])
            assert all(set(one) == {"id", "place", "left"} for lot in part["items"] for one in lot)
            assert all(set(term) == {"what", "cost", "says", "source"} for term in part["terms"])


@pytest.mark.parametrize("name", NAMES)
def test_what_an_explanation_costs_adds_up_in_json_too(name: str) -> None:
    design = asked(name)
    for variant in proposal_json(design, search(design, 6), 6)["variants"]:
        costs = [
            one["cost"]
            for part in variant["parts"].values()
            for one in (*part["terms"], *part["rules"])
        ]
        assert sum(costs) == pytest.approx(variant["departure"])


def test_complete_means_that_no_other_variant_exists() -> None:
    design = asked("sluice-midge", max_changes=1)
    everything = search(design, 10_000)
    answer = proposal_json(design, everything, 10_000)
    assert answer["complete"] is True
    count = len(answer["variants"])
    assert count > 20
    assert proposal_json(design, search(design, count - 1), count - 1)["complete"] is False


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        ({"sizes": (20,)}, {"empty_parts": ["hook"], "together": []}),
        ({"max_changes": 0, "missing": frozenset({"body"})}, None),
    ],
)
def test_a_blocked_answer_has_the_documented_shape(
    wishes: dict[str, Any], told: dict[str, Any] | None
) -> None:
    design = asked("sluice-midge", **wishes)
    conflict = find_conflict(design)
    assert conflict is not None
    answer = through_text(conflict_json(design, conflict))
    assert set(answer) == HEAD | {"blocked"}
    assert answer["variants"] == []
    if told is not None:
        assert answer["blocked"] == told
    assert answer["blocked"]["empty_parts"] or answer["blocked"]["together"]
