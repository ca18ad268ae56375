"""A class and its shopping list: nothing is lost on the way from the flies to the table."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

import pytest

from tests.real import EXAMPLES, box, example_box, fly, rulebook
from variants.geometry import load_layout
from variants.geometry.measured import Counted
from variants.model import Box, Item
from variants.reading.batches import Batch, BatchFly, read_batch
from variants.reading.prices import Price, Prices, read_prices
from variants.survey.batches import BatchPlan, plan_batch
from variants.survey.class_kit import lay_out_kit, scale_for_class
from variants.survey.shopping import make_shopping_list
from variants.units import parse_quantity

LAYOUT = load_layout()
CLASS = read_batch(EXAMPLES / "class.toml", rulebook().trade)
PRICES = read_prices(EXAMPLES / "prices.csv", rulebook().trade)


def planned(batch: Batch, stock: Box) -> BatchPlan:
    return plan_batch(batch.flies, stock, rulebook(), LAYOUT)


def bought(plan: BatchPlan, stock: Box, prices: Prices) -> Box:
    """Return the box after a walk to the shop with the list."""
    items = list(stock.items)
    for number, one in enumerate(make_shopping_list(plan, prices)):
        unit = one.wanting.counted.value
        amount = one.wanting.amount
        if one.wanting.counted is Counted.PIECES:
            amount = ceil(amount)
        items.append(
            Item(
                f"bag {number}",
                one.ingredient.material,
                one.ingredient.colour,
                sizes=None if one.size is None else (one.size,),
                amount=parse_quantity(f"{amount} {unit}"),
            )
        )
    return replace(stock, items=tuple(items))


def test_each_student_ties_what_the_file_wants() -> None:
    whole = scale_for_class(CLASS, 7)
    assert [one.count for one in whole.flies] == [7 * one.count for one in CLASS.flies]
    assert scale_for_class(CLASS, 1) == CLASS


def test_what_is_laid_out_is_what_the_flies_use() -> None:
    plan = planned(scale_for_class(CLASS, 8), example_box())
    kit = lay_out_kit(plan.tied)
    hooks = sum(one.taken.amount for one in kit if one.parts == ("hook",))
    assert hooks == sum(one.count for one in plan.tied)
    used = sum(
        (use.length_mm or 0) * one.count
        for one in plan.tied
        for use in one.uses
        if use.part == "thread"
    )
    told = sum(one.taken.amount for one in kit if one.parts == ("thread",))
    assert told == pytest.approx(used)
    assert all(0 < one.flies <= 32 for one in kit)


@pytest.mark.parametrize("students", [8, 30])
def test_with_what_is_on_the_list_every_fly_can_be_tied(students: int) -> None:
    """The list is tried by shopping: no fly is left over, and no closer variant gives way."""
    whole = scale_for_class(CLASS, students)
    plan = planned(whole, example_box())
    assert plan.short
    again = planned(whole, bought(plan, example_box(), PRICES))
    assert not again.short


def test_what_is_left_is_taken_off_the_list_once() -> None:
    rows = [
        "hooks,dry fly hook,,14,,50 hooks",
        "thread,polyester tying thread,black,,,300 m",
        "herl,peacock herl,,,,",
        "ginger,rooster-neck-dry,ginger,14,,5 feathers",
    ]
    parts = {
        "hook": "dry fly hook",
        "thread": "polyester tying thread, black",
        "body": "peacock herl",
        "hackle": "rooster-neck-dry, ginger | signature = true",
    }
    one, other = (replace(fly(parts), name=name) for name in ("one", "other"))
    plan = planned(Batch("two", (BatchFly(one, 14, 4), BatchFly(other, 14, 4))), box(rows))
    assert plan.allocation.tied == 5
    (hackle,) = make_shopping_list(plan, Prices({}))
    assert hackle.wanting.amount == 3
    assert hackle.price is None
    assert hackle.cost is None


@pytest.mark.parametrize(("wanted", "packs"), [(1, 1), (25, 1), (26, 2), (60, 3)])
def test_packs_are_whole(wanted: int, packs: int) -> None:
    midge = next(one for one in CLASS.flies if one.size == 20)
    plan = planned(Batch("midges", (replace(midge, count=wanted),)), example_box())
    (hooks,) = make_shopping_list(plan, PRICES)
    assert (hooks.size, hooks.wanting.amount) == (20, wanted)
    assert hooks.packs == packs
    assert hooks.cost == pytest.approx(4.5 * packs)


def test_a_price_without_an_amount_is_paid_once() -> None:
    midge = next(one for one in CLASS.flies if one.size == 20)
    plan = planned(Batch("midges", (replace(midge, count=40),)), example_box())
    material = plan.short[0].needs[0][0].ingredient.material
    (hooks,) = make_shopping_list(plan, Prices({(material.id, "", ""): Price(3.0)}))
    assert (hooks.packs, hooks.cost) == (None, 3.0)
