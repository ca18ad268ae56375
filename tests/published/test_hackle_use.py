"""How much hackle a dry fly takes, as a handbook of 1940 counts it.

A winged dry fly: two turns before the wing, two behind, two or three more before; one good hackle
is mostly enough for it. No published account of measured stems is known to us.
"""

from __future__ import annotations

import pytest

from tests.real import box, fly, rulebook
from variants.design import Request, build_problem
from variants.design.search import search
from variants.geometry import fly_geometry, load_layout, uses_of

PARTS = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "body": "peacock herl",
    "wing": "mallard flank, mallard flank",
}
ROWS = [
    "hooks,dry fly hook,,{size},,20 hooks",
    "thread,polyester tying thread,black,,,300 m",
    "herl,peacock herl,,,,20 strands",
    "flank,mallard flank,mallard flank,,,20 feathers",
    "cape,rooster-neck-dry,ginger,8-18,,12 feathers",
]


@pytest.mark.source("gregg-1940", "pages 30 and 31")
@pytest.mark.parametrize("size", [10, 12, 14, 16])
@pytest.mark.parametrize("turns", [6, 7])
def test_one_good_hackle_is_enough_for_six_or_seven_turns(size: int, turns: int) -> None:
    hackle = f"rooster-neck-dry, ginger | turns = {turns}"
    dressing = fly({**PARTS, "hackle": hackle}, sizes=str(size))
    stock = box([row.format(size=size) for row in ROWS])
    design = build_problem(Request(dressing, stock), rulebook())
    variant = search(design, 1).variants[0]
    layout = load_layout()
    (used,) = (
        use
        for use in uses_of(fly_geometry(design, layout, variant), variant.chosen, layout)
        if use.part == "hackle"
    )
    assert used.how.startswith(f"{turns} turns")
    assert used.pieces == 1
