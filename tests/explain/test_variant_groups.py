"""The default list: needed changes only, and what looks much the same in one line with "or"."""

from __future__ import annotations

import pytest

from tests.real import box, example, example_box, fly, rulebook
from variants.design import Request, build_problem
from variants.design.search import find_needed, search
from variants.explain import group_variants, search_groups

PARTS = {
    "hook": "hook-dry-standard",
    "thread": "thread-polyester, black",
    "tail": "rooster-spade, ginger",
    "body": "muskrat-dubbing",
    "hackle": "rooster-neck-dry, ginger",
}
ROWS = (
    "hooks,hook-dry-standard,,14,,20 hooks",
    "spade,rooster-spade,ginger,,2-30 mm,",
    "cape,rooster-neck-dry,ginger,,2-30 mm,",
    "mole,mole-dubbing,,,,",
    "herl,peacock-herl,,,,",
    "silk,silk-thread,black,,,30 m",
    "silk brown,silk-thread,brown,,,30 m",
    "poly grey,thread-polyester,grey,,,30 m",
)


def test_flies_that_differ_by_a_thread_are_one_line() -> None:
    design = build_problem(Request(fly(PARTS), box(ROWS)), rulebook())
    result, _ = search_groups(design, 2)
    lines = group_variants(design, result.so_far)
    bodies = [line.first.chosen["body"].ingredients[0].material.id for line in lines]
    assert bodies[0] == "mole-dubbing"
    assert len(set(bodies)) == 2
    threads = {one.chosen["thread"].identity for one in (lines[0].first, *lines[0].others)}
    assert len(threads) == 3
    for line in lines:
        assert {one.chosen["body"].identity for one in line.others} <= {
            line.first.chosen["body"].identity
        }


@pytest.mark.parametrize("name", ["ferrymans-dun", "tenter-mill-quill", "long-acre-olive"])
def test_what_is_listed_is_proven_and_numbered_as_every_command_counts(name: str) -> None:
    design = build_problem(
        Request(example(name), example_box(), missing=frozenset({"body"})), rulebook()
    )
    result, looked_through = search_groups(design, 4)
    assert looked_through is None
    shown = result.so_far
    assert [one.rank for one in shown] == list(range(1, len(shown) + 1))
    assert result.proven == len(shown)
    assert shown[0].departure == search(design, 1).variants[0].departure
    again = find_needed(design, len(shown))
    assert [one.departure for one in again] == [one.departure for one in shown]
    lines = group_variants(design, shown)
    assert len(lines) <= 4
    assert sorted(one.rank for line in lines for one in (line.first, *line.others)) == [
        one.rank for one in shown
    ]


def test_what_the_box_gives_as_written_stands_alone() -> None:
    design = build_problem(Request(example("bellringer"), example_box()), rulebook())
    result, _ = search_groups(design, 5)
    assert [one.departure for one in result.so_far] == [0]
