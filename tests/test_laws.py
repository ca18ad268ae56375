"""Laws that hold for any dressing and any box, on small random ones made of the real tables."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.real import propose, rulebook
from tests.strategies.flies import dressings, held, row, rows, rows_of
from variants import api
from variants.model import Dressing, Variant
from variants.rulebook import Count, Equal, Rulebook

MOST = 15


def answer(found: list[Variant]) -> list[Any]:
    """Return all that a tyer is told of variants, in a form that compares."""
    return [
        (
            one.departure,
            one.changed,
            sorted(term.what for term in one.rule_terms),
            {
                part: (used.identity, used.way, [[item.id for item in lot] for lot in used.items])
                for part, used in one.chosen.items()
            },
        )
        for one in found
    ]


def departures(found: list[Variant]) -> list[int]:
    return [one.departure for one in found]


def under(rules: Rulebook, base: Dressing, told: list[str], most: int = MOST) -> list[Variant]:
    return api.propose(base, held(told), rules, best=most)[1]


@given(dressings(), rows())
def test_departures_never_fall_and_never_go_below_nothing(base: Dressing, told: list[str]) -> None:
    found = departures(propose(base, held(told), best=MOST)[1])
    assert found == sorted(found)
    assert all(departure >= 0 for departure in found)


@given(dressings())
def test_a_box_that_holds_it_all_gives_the_dressing_at_nothing(base: Dressing) -> None:
    _design, found = propose(base, held(rows_of(base)), best=1)
    assert departures(found) == [0]
    assert found[0].changed == ()


@given(dressings(), rows(), row("more"))
def test_one_thing_more_in_the_box_never_makes_the_best_worse(
    base: Dressing, told: list[str], more: str
) -> None:
    before = departures(propose(base, held(told), best=MOST)[1])
    after = departures(propose(base, held([*told, more]), best=MOST)[1])
    assert len(after) >= len(before)
    assert all(now <= then for now, then in zip(after, before, strict=False))


@given(dressings(), rows(), st.randoms(use_true_random=False))
def test_the_order_of_the_box_changes_nothing(
    base: Dressing, told: list[str], dice: Random
) -> None:
    shuffled = told.copy()
    dice.shuffle(shuffled)
    forth, other = (propose(base, held(lines), best=MOST)[1] for lines in (told, shuffled))
    assert answer(forth) == answer(other)


@given(dressings(), rows())
def test_taking_away_what_no_variant_uses_changes_nothing(base: Dressing, told: list[str]) -> None:
    stock = held(told)
    found = propose(base, stock, best=MOST)[1]
    used = {
        item.id
        for one in found
        for candidate in one.chosen.values()
        for items in candidate.items
        for item in items
    }
    fewer = replace(stock, items=tuple(item for item in stock.items if item.id in used))
    assert answer(propose(base, fewer, best=MOST)[1]) == answer(found)


@given(dressings(), rows(), st.randoms(use_true_random=False))
@settings(max_examples=examples(30))
def test_the_order_of_the_rules_changes_nothing(
    base: Dressing, told: list[str], dice: Random
) -> None:
    rules = list(rulebook().rules)
    dice.shuffle(rules)
    found = propose(base, held(told), best=MOST)[1]
    assert answer(under(replace(rulebook(), rules=tuple(rules)), base, told)) == answer(found)


@given(dressings(), rows(), st.data())
@settings(max_examples=examples(30))
def test_a_rule_less_never_makes_the_best_worse(
    base: Dressing, told: list[str], data: st.DataObject
) -> None:
    # Counts choose turns, and equals widen what may be used: they do more than judge.
    judging = [rule for rule in rulebook().rules_for(base.style, None)
               if not isinstance(rule, Count | Equal)]  # fmt: skip
    gone = data.draw(st.sampled_from([rule.id for rule in judging]))
    fewer = tuple(rule for rule in rulebook().rules if rule.id != gone)
    before = departures(propose(base, held(told), best=MOST)[1])
    after = departures(under(replace(rulebook(), rules=fewer), base, told))
    assert len(after) >= len(before)
    assert all(now <= then for now, then in zip(after, before, strict=False))
