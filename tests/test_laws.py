"""Laws that hold for any dressing and any box, on small random ones made of the real tables."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.real import box, fly, propose
from variants.model import Box, Dressing

HACKLES = ["rooster-neck-dry", "rooster-saddle-dry", "hen-neck", "badger-hackle"]
BODIES = ["synthetic-fine-dubbing", "muskrat-dubbing", "silk-floss", "peacock-herl", "mole-dubbing"]
TAILS = ["rooster-spade", "rooster-neck-dry", "coq-de-leon"]
COLOURS = ["ginger", "black", "medium-olive", "grizzly", "cree", "white"]
FIXED = ["hooks 14,hook-dry-standard,,14,,20 hooks", "hooks 16,hook-dry-standard,,16,,20 hooks",
         "thread,thread-polyester,black,,,30 m"]  # fmt: skip
MOST = 15


@st.composite
def dressings(draw: st.DrawFn) -> Dressing:
    def stuff(materials: list[str]) -> str:
        return f"{draw(st.sampled_from(materials))}, {draw(st.sampled_from(COLOURS))}"

    parts = {"hook": "hook-dry-standard", "thread": "thread-polyester, black"}
    parts |= {"tail": stuff(TAILS), "body": stuff(BODIES), "hackle": stuff(HACKLES)}
    return fly(parts, sizes="14-16")


@st.composite
def rows(draw: st.DrawFn) -> list[str]:
    chosen = draw(
        st.lists(
            st.tuples(
                st.sampled_from(HACKLES + BODIES + TAILS),
                st.sampled_from(COLOURS),
                st.sampled_from(["", "12-16", "16-20", "10"]),
            ),
            min_size=2,
            max_size=9,
        )
    )
    made = [
        f"thing {number},{material},{colour},{sizes if 'dubbing' not in material else ''},,"
        for number, (material, colour, sizes) in enumerate(chosen)
    ]
    return [*FIXED, *made]


def departures(dressing: Dressing, stock: Box) -> list[int]:
    return [one.departure for one in propose(dressing, stock, best=MOST)[1]]


@given(dressings(), rows())
def test_departures_never_fall_and_never_go_below_nothing(base: Dressing, told: list[str]) -> None:
    found = departures(base, box(told))
    assert found == sorted(found)
    assert all(departure >= 0 for departure in found)


@given(dressings(), rows(), st.sampled_from(HACKLES + BODIES), st.sampled_from(COLOURS))
def test_one_thing_more_in_the_box_never_makes_the_best_worse(
    base: Dressing, told: list[str], material: str, colour: str
) -> None:
    before = departures(base, box(told))
    after = departures(base, box([*told, f"one more,{material},{colour},,,"]))
    assert not before or after[0] <= before[0]


@given(dressings(), rows(), st.randoms(use_true_random=False))
def test_the_order_of_the_box_changes_nothing(base: Dressing, told: list[str], dice) -> None:
    shuffled = told.copy()
    dice.shuffle(shuffled)
    assert departures(base, box(told)) == departures(base, box(shuffled))


@given(dressings(), rows())
@settings(max_examples=30)
def test_taking_away_what_no_variant_uses_changes_no_departure(
    base: Dressing, told: list[str]
) -> None:
    stock = box(told)
    found = propose(base, stock, best=MOST)[1]
    used = {
        item.id
        for one in found
        for candidate in one.chosen.values()
        for items in candidate.items
        for item in items
    }
    fewer = replace(stock, items=tuple(item for item in stock.items if item.id in used))
    assert departures(base, fewer) == [one.departure for one in found]


@given(dressings())
@settings(max_examples=30)
def test_a_box_that_holds_the_dressing_gives_it_at_next_to_nothing(base: Dressing) -> None:
    # Feathers without a measure have the table's whole range, so that some length is right; a
    # material too short for the fly by the table costs what its shortness costs.
    held = [
        f"own {part.id},{part.ingredients[0].material.id},{part.ingredients[0].colour.id},,,"
        for part in base.parts
        if part.id not in ("hook", "thread") and part.ingredients[0].colour
    ]
    design, found = propose(base, box([*FIXED, *held]), best=1)
    if found:
        only = {rule.id for rule in design.rules}
        assert all(term.what in only for term in found[0].rule_terms)
        assert found[0].changed == () or found[0].departure > 0
