"""Blends: dubbings of the owner's that together come near to the wanted shade."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.real import box, fly, propose, rulebook
from variants.design import Request, build_problem
from variants.rulebook import blend_shade, delta_e, may_reach

PARTS = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, black",
    "body": "fine synthetic dubbing, medium olive | signature = true",
    "hackle": "rooster-neck-dry, ginger",
}
ROWS = [
    "hooks,dry fly hook,,14,,20 hooks",
    "thread,polyester tying thread,black,,,30 m",
    "cape,rooster-neck-dry,ginger,12-16,,40 feathers",
]
LIGHT = "light,fine synthetic dubbing,light olive,,,1 g"
DARK = "dark,fine synthetic dubbing,dark olive,,,1 g"


def bodies(*rows: str) -> list[tuple[str, list[str]]]:
    """Return, for each variant, the ratio of its body (or nothing) and the items in it."""
    _design, found = propose(fly(PARTS), box([*ROWS, *rows]), best=10)
    return [
        (
            str(one.chosen["body"].attributes.get("blend") or ""),
            sorted(items[0].id for items in one.chosen["body"].items),
        )
        for one in found
    ]


def test_light_and_dark_blended_make_the_shade_between() -> None:
    ratio, items = bodies(LIGHT, DARK)[0]
    assert ratio
    assert items == ["dark", "light"]


def test_the_blend_is_within_the_stated_difference_and_nearer_than_either() -> None:
    _design, found = propose(fly(PARTS), box([*ROWS, LIGHT, DARK]), best=1)
    body = found[0].chosen["body"]
    wanted = rulebook().trade.colours["medium-olive"].hexes[0]
    apart = delta_e(wanted, str(body.attributes["shade"]))
    assert apart <= rulebook().conventions.blend_within
    assert apart < min(
        delta_e(wanted, one.colour.hexes[0]) for one in body.ingredients if one.colour
    )
    assert any(f"within dE {apart:.1f}" in term.says for term in body.terms)


def test_what_is_right_alone_is_blended_with_nothing() -> None:
    own = "own,fine synthetic dubbing,medium olive,,,1 g"
    made = bodies(own, LIGHT, DARK)
    assert made[0] == ("", ["own"])
    assert all("own" not in items for ratio, items in made if ratio)


def test_colours_that_cannot_meet_are_not_blended() -> None:
    white = "white,fine synthetic dubbing,white,,,1 g"
    claret = "claret,fine synthetic dubbing,claret,,,1 g"
    assert [ratio for ratio, _items in bodies(white, claret) if ratio] == []


@pytest.mark.parametrize("parts", [(1, 1), (3, 1), (1, 3)])
def test_a_blend_averages_linear_light(parts: tuple[int, int]) -> None:
    # The sRGB curve by hand: IEC 61966-2-1, from memory.
    def light(value: int) -> float:
        share = value / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    one, other = 0x20, 0xD0
    mean = (parts[0] * light(one) + parts[1] * light(other)) / sum(parts)
    curve = 12.92 * mean if mean <= 0.0031308 else 1.055 * mean ** (1 / 2.4) - 0.055
    expected = f"{round(curve * 255):02X}"
    assert blend_shade(["#202020", "#D0D0D0"], parts) == f"#{expected * 3}"


SHADES = ["black", "white", "claret", "light-olive", "dark-olive", "brown", "yellow", "medium-dun"]
SHARES = {
    2: [(1, 1), (2, 1), (1, 2), (3, 1), (1, 3)],
    3: [(1, 1, 1), (2, 1, 1), (1, 2, 1), (1, 1, 2)],
}


@given(st.lists(st.sampled_from(SHADES), min_size=2, max_size=5, unique=True),
       st.sampled_from(["medium-olive", "blue-dun", "grey", "tan", "amber"]))  # fmt: skip
@settings(max_examples=examples(25), deadline=None)
def test_blends_are_those_that_trying_every_two_and_three_finds(
    owned: list[str], wanted: str
) -> None:
    colours = rulebook().trade.colours
    asked = fly({**PARTS, "body": f"fine synthetic dubbing, {wanted} | signature = true"})
    rows = [f"{name},fine synthetic dubbing,{name},,,1 g" for name in owned]
    design = build_problem(Request(asked, box([*ROWS, *rows])), rulebook())
    found = {
        frozenset(items[0].id for items in one.items)
        for one in design.domains["body"]
        if one.attributes.get("blend")
    }
    shade, within = colours[wanted].hexes[0], rulebook().conventions.blend_within
    expected = set()
    for count, shares in SHARES.items():
        for several in combinations(sorted(owned), count):
            hexes = [colours[name].hexes[0] for name in several]
            nearest = min(delta_e(shade, blend_shade(hexes, parts)) for parts in shares)
            if nearest <= within and nearest + 2 < min(delta_e(shade, one) for one in hexes):
                expected.add(frozenset(several))
    assert found == expected


HEXES = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06X}")


@given(HEXES, st.lists(HEXES, min_size=3, max_size=3), st.sampled_from(SHARES[2] + SHARES[3]))
@settings(deadline=None)
def test_no_blend_within_reach_is_passed_over(
    wanted: str, shades: list[str], parts: tuple[int, ...]
) -> None:
    shades = shades[: len(parts)]
    apart = delta_e(wanted, blend_shade(shades, parts))
    assert may_reach(wanted, shades, apart)
    assert may_reach(wanted, shades, apart, parts)


@given(HEXES, HEXES, st.sampled_from(SHARES[2]), st.tuples(*[st.integers(-12, 12)] * 3))
@settings(deadline=None)
def test_no_blend_that_is_near_is_passed_over(
    one: str, other: str, parts: tuple[int, ...], off: tuple[int, ...]
) -> None:
    blend = blend_shade([one, other], parts)
    channels = [int(blend[at : at + 2], 16) + step for at, step in zip((1, 3, 5), off, strict=True)]
    wanted = "#" + "".join(f"{min(255, max(0, channel)):02X}" for channel in channels)
    assert may_reach(wanted, [one, other], delta_e(wanted, blend), parts)


def test_white_is_out_of_reach_of_dark_furs() -> None:
    assert not may_reach("#FFFFFF", ["#202020", "#404040"], 6.0)
    assert may_reach("#FFFFFF", ["#202020", "#FFFFFF"], 6.0)
    assert not may_reach("#FFFFFF", ["#202020", "#FFFFFF"], 6.0, [1, 1])
