"""Of variants that depart alike the cheapest comes first, and the departures stay the same."""

from __future__ import annotations

from tests.real import box, fly, rulebook
from variants.design import Request, build_problem
from variants.design.search import search
from variants.geometry import cost_of, fly_geometry, load_layout, sort_by_price, uses_of

LAYOUT = load_layout()
COLUMNS = "item,material,colour,sizes,length,amount,price,price_for"


def test_ties_are_broken_by_cost_and_nothing_else_changes() -> None:
    dressing = fly(
        {
            "hook": "dry fly hook",
            "thread": "polyester tying thread, black",
            "body": "peacock herl",
            "hackle": "rooster-neck-dry, ginger",
        }
    )
    stock = box(
        [
            "hooks,dry fly hook,,14,,50 hooks,5,50 hooks",
            "dear,polyester tying thread,black,,,100 m,9,100 m",
            "fine,polyester tying thread,black,,,90 m,2,100 m",
            "herl,peacock herl,,,,,,",
            "cape,rooster-neck-dry,ginger,14,,30 feathers,20,40 feathers",
            "old,rooster-neck-dry,ginger,14,,9 feathers,4,40 feathers",
        ],
        COLUMNS,
    )
    design = build_problem(Request(dressing, stock), rulebook())
    plain = search(design, 3)
    cheap = sort_by_price(design, 3, LAYOUT)
    assert [one.departure for one in cheap.variants] == [one.departure for one in plain.variants]
    keys = []
    for one in cheap.variants:
        cost = cost_of(uses_of(fly_geometry(design, LAYOUT, one), one.chosen, LAYOUT))
        keys.append((one.departure, len(cost.unpriced), cost.total))
    assert keys == sorted(keys)
    assert [one.rank for one in cheap.variants] == [1, 2, 3][: len(cheap.variants)]
