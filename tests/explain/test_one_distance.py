"""`instead` and `propose` judge stuff by one distance and one set of needs."""

from __future__ import annotations

import pytest

from tests.real import box, fly, propose, rulebook
from variants.design import Request, build_problem
from variants.explain.instead import find_stand_ins
from variants.explain.stand_ins import StandInQuery
from variants.model import Dressing, StylePart

BARBS = "2-60 mm"
FLY = {
    "hook": "hook-dry-standard",
    "thread": "thread-polyester, black",
    "body": "synthetic-fine-dubbing, black",
}
HELD = (
    "hooks,hook-dry-standard,,14,,20 hooks",
    "thread,thread-polyester,black,,,30 m",
    "body,synthetic-fine-dubbing,black,,,",
    "marabou,marabou,black,,,",
    "strip,rabbit-strip,black,,,",
    f"hen,hen-neck,black,,{BARBS},",
    f"cock,rooster-neck-dry,black,,{BARBS},",
    f"quill,duck-quill-slip,white,,{BARBS},",
    "calf,calf-tail,white,,,",
    "floss,silk-floss,black,,,",
    "lead,lead-wire,,,,",
)
DEER = "deer,deer-body,deer-natural,,,"
#: A part, what it is written of, the style.
ASKED = [
    ("wing", "foam-closed-cell, black", "down wing"),
    ("wing", "deer-body, deer-natural", "down wing"),
    ("wing", "cdc, white", "emerger"),
    ("hackle", "rooster-neck-dry, grizzly", "dry upright"),
    ("tail", "moose-body, black", "dry upright"),
    ("body", "peacock-herl, peacock-bronze", "nymph"),
]


def asked_of(part: str, words: str, style: str) -> tuple[Dressing, StandInQuery, StylePart]:
    parts = {**FLY, part: words}
    if style == "dry upright" and part != "hackle":
        parts["hackle"] = "rooster-neck-dry, black"
    dressing = fly(parts, style=style)
    wanted = dressing.part(part)
    assert wanted is not None
    one = wanted.ingredients[0]
    place = rulebook().trade.styles[dressing.style].part(part)
    assert place is not None
    return dressing, StandInQuery(one.material, part, dressing.style, one.colour), place


@pytest.mark.parametrize(("part", "words", "style"), ASKED)
def test_both_know_the_same_stuff_and_tell_the_same_distance(
    part: str, words: str, style: str
) -> None:
    dressing, asked, place = asked_of(part, words, style)
    stock = box([*HELD, DEER])
    answer = find_stand_ins(rulebook().likeness, asked, stock)
    told = {
        item.id: one.distance
        for group in answer.answers
        for one in (group.first, *group.likewise)
        for item in one.items
        if len(one.colours) < 2
    }
    domain = build_problem(Request(dressing, stock), rulebook()).domains[part]
    found = {one.items[0][0].id: one for one in domain if len(one.ingredients) == 1}
    unfit = {one.material.id for one in answer.unfit}
    own = [key for key, one in found.items() if one.ingredients[0].material == asked.material]
    fit = {k for k, one in found.items() if one.ingredients[0].material.id not in unfit}
    assert told.keys() == fit - set(own)
    for key, distance in told.items():
        # Each term is rounded once more when it is weighted.
        assert abs(found[key].cost - distance * place.weight) <= len(found[key].terms) / 2 + 1


@pytest.mark.parametrize("words", ["foam-closed-cell, black", "cdc, white"])
def test_a_wing_that_carries_the_fly_is_of_nothing_that_soaks(words: str) -> None:
    dressing, _, _ = asked_of("wing", words, "down wing")
    _, variants = propose(dressing, box([*HELD, DEER]), best=3)
    wings = [one.chosen["wing"].ingredients[0].material for one in variants]
    assert {one.water for one in wings} <= {"floats", "neutral"}
    assert words.startswith("cdc") or wings[0].id == "deer-body"


def test_without_anything_that_meets_a_need_what_lacks_it_is_told_in_both() -> None:
    stock = box([row for row in HELD if not row.startswith("cock")])
    dressing, asked, _ = asked_of("hackle", "rooster-neck-dry, grizzly", "dry upright")
    answer = find_stand_ins(rulebook().likeness, asked, stock)
    assert not answer.unfit
    told = next(
        one
        for group in answer.answers
        for one in (group.first, *group.likewise)
        if one.material.id == "hen-neck"
    )
    needs = {term.says for term in told.terms if term.what == "need"}
    assert needs
    (hen,) = (
        one
        for one in build_problem(Request(dressing, stock), rulebook()).domains["hackle"]
        if one.items and one.items[0][0].id == "hen"
    )
    assert needs <= {term.says for term in hen.terms}


def test_stuff_that_a_part_is_not_known_for_is_tried_and_costs() -> None:
    likeness, trade = rulebook().likeness, rulebook().trade
    spade, neck = trade.materials["rooster-spade"], trade.materials["rooster-neck-dry"]
    assert not spade.functions & trade.parts["hackle"].functions
    assert spade.id in likeness.serving(neck, "hackle", "dry-upright")
    assert "use" in {term.what for term in likeness.material(neck, spade, "hackle", "dry-upright")}


@pytest.mark.parametrize(
    ("found", "wanted", "part"),
    [
        ("hook-dry-standard", "moose-body", "tail"),
        ("brass-bead", "wire-fine-gold", "rib"),
        ("silk-floss", "thread-polyester", "thread"),
        ("tinsel-flat-silver", "lead-wire", "weight"),
    ],
)
def test_what_cannot_be_tied_in_there_is_never_tried(found: str, wanted: str, part: str) -> None:
    stuff, likeness = rulebook().trade.materials, rulebook().likeness
    assert found in stuff
    assert found not in likeness.serving(stuff[wanted], part, "nymph")
