"""The way from base to variant is the best there is, by brute force on small lattices."""

from __future__ import annotations

import random
from itertools import pairwise, permutations
from typing import cast

import pytest

from tests.breadth import seeds
from variants.explain.derivation.lattice import Lattice, NoGood
from variants.rulebook import Rule


def lattice(seed: int) -> Lattice:
    dice = random.Random(seed)
    changes = dice.randint(1, 5)
    no_goods = []
    for number in range(dice.randint(0, 5)):
        scope = sum(1 << bit for bit in dice.sample(range(changes), dice.randint(1, changes)))
        made = scope & dice.getrandbits(changes)
        no_goods.append(NoGood(cast(Rule, number), scope, made))
    known = {dice.getrandbits(changes) for _ in range(dice.randint(0, 4))}
    valid = [one for one in known if not any(one & n.scope == n.made for n in no_goods)]
    return Lattice(changes, no_goods, frozenset(valid))


def ways(one: Lattice) -> list[list[int]]:
    """Every way there is: every order of the changes, cut into steps everywhere it can be."""
    found = set()
    for order in permutations(range(one.changes)):
        for cuts in range(1 << (one.changes - 1)):
            states, state = [0], 0
            for place, bit in enumerate(order):
                state |= 1 << bit
                if place == one.changes - 1 or cuts >> place & 1:
                    states.append(state)
            if not any(one.broken_rules(between) for between in states[1:-1]):
                found.add(tuple(states))
    return [list(states) for states in found]


def price(one: Lattice, states: list[int]) -> tuple[int, int, int]:
    steps = [(after & ~before).bit_count() for before, after in pairwise(states)]
    new = sum(state not in one.known for state in states[1:])
    return max(steps), sum(count * count for count in steps), new


@pytest.mark.parametrize("seed", seeds(range(200)))
def test_the_way_has_the_fewest_changes_at_once_then_the_fewest_new_states(seed: int) -> None:
    one = lattice(seed)
    way = one.shortest_path()
    assert way in ways(one)
    assert price(one, way) == min(price(one, other) for other in ways(one))


def test_a_way_without_hindrance_changes_the_parts_in_the_order_of_the_dressing() -> None:
    assert Lattice(3, ()).shortest_path() == [0b000, 0b001, 0b011, 0b111]


def test_one_linked_step_among_many_is_found() -> None:
    tied = cast(Rule, "tied")
    way = Lattice(13, (NoGood(tied, 0b11, 0b01), NoGood(tied, 0b11, 0b10))).shortest_path()
    assert [(after & ~before).bit_count() for before, after in pairwise(way)].count(2) == 1
    assert len(way) == 13
