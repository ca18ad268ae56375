"""What stands in for a material: laws over every material of the tables, place and box."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.real import example_box, rulebook
from variants.explain.instead import find_instead
from variants.explain.stand_ins import Asked, Instead, StandIn
from variants.rulebook.likeness import Likeness

TRADE = rulebook().trade
LIKENESS = rulebook().likeness


def questions() -> st.SearchStrategy[Asked]:
    """A material at a part that it serves, of a style that has the part."""
    places = [
        (material, part.part, style.id)
        for material in sorted(TRADE.materials.values(), key=lambda one: one.id)
        for style in TRADE.styles.values()
        for part in style.parts
        if part.part != "hook" and material.functions & TRADE.parts[part.part].functions
    ]
    return st.sampled_from(places).map(lambda place: Asked(*place))


def all_of(found: Instead) -> list[StandIn]:
    return [one for answer in found.answers for one in (answer.first, *answer.likewise)]


@given(questions())
@settings(max_examples=60, deadline=None)
def test_terms_sum_to_the_distance_and_each_has_a_source(asked: Asked) -> None:
    for one in all_of(find_instead(LIKENESS, asked)):
        assert one.distance == sum(term.cost for term in one.terms)
        assert all(term.says and term.source for term in one.terms)
        assert one.material.id != asked.material.id


@given(questions())
@settings(max_examples=60, deadline=None)
def test_after_the_first_answers_go_by_distance(asked: Asked) -> None:
    found = find_instead(LIKENESS, asked)
    distances = [answer.first.distance for answer in found.answers]
    # The first may be farther than the next: a lawful one goes before those with a caution.
    assert distances[1:] == sorted(distances[1:])
    if distances and distances[0] != min(distances):
        assert not found.answers[0].first.material.caution


@given(questions())
@settings(max_examples=60, deadline=None)
def test_what_does_not_serve_says_why_and_is_not_offered(asked: Asked) -> None:
    found = find_instead(LIKENESS, asked)
    offered = {one.material.id for one in all_of(found)}
    for unfit in found.unfit:
        assert unfit.needs
        assert all(need.says and need.source for need in unfit.needs)
        assert unfit.material.id not in offered


@given(questions(), st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_the_order_of_the_tables_does_not_matter(asked: Asked, chance: object) -> None:
    shuffled = list(TRADE.materials.items())
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    trade = replace(TRADE, materials=dict(shuffled))
    other = find_instead(Likeness(trade, LIKENESS.tables), asked)
    mine = find_instead(LIKENESS, asked)
    assert [one.material.id for one in all_of(other)] == [one.material.id for one in all_of(mine)]


@given(questions())
@settings(max_examples=40, deadline=None)
def test_a_box_offers_only_what_it_holds(asked: Asked) -> None:
    box = example_box()
    held = {item.id for item in box.items}
    kept = {item.material.id for item in box.items}
    for one in all_of(find_instead(LIKENESS, asked, box)):
        assert one.items
        assert {item.id for item in one.items} <= held
        assert one.material.id in kept


@given(questions())
@settings(max_examples=40, deadline=None)
def test_what_cannot_be_had_either_is_never_an_answer(asked: Asked) -> None:
    found = all_of(find_instead(LIKENESS, asked))
    gone = frozenset(one.material.id for one in found[:2])
    again = all_of(find_instead(LIKENESS, replace(asked, without=gone)))
    assert not gone & {one.material.id for one in again}
