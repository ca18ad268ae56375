"""One feather may serve several parts, as far as its barbs go; what goes in whole is whole."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.real import box, fly, propose, rulebook
from variants.design import Request, build_problem
from variants.geometry import load_layout
from variants.geometry.fly import fly_geometry
from variants.geometry.uses import uses_of
from variants.geometry.yields import supplies
from variants.model import Box, Dressing
from variants.survey import BoxStanding, survey

FEATHER = "pheasant-tail-cock"
NYMPH = {
    "hook": "hook-nymph",
    "thread": "thread-polyester, brown",
    "tail": f"{FEATHER} | fibres = 4",
    "body": FEATHER,
    "thorax": FEATHER,
}
ROWS = ("hooks,hook-nymph,,14,,20 hooks", "thread,thread-polyester,brown,,,30 m")


def nymph() -> Dressing:
    return fly(NYMPH, style="nymph")


def held(amount: str) -> Box:
    return box([*ROWS, f"tail feather,{FEATHER},,,30-60 mm,{amount}"])


@pytest.mark.parametrize("amount", ["1 feather", "0.5 feather", "30 feathers"])
def test_one_feather_makes_tail_body_and_thorax_as_written(amount: str) -> None:
    design, found = propose(nymph(), held(amount), best=1)
    assert (found[0].departure, found[0].changed) == (0, ())
    (outlook,) = survey([nymph()], [("box", held(amount))], rulebook()).outlooks
    assert outlook.standing is BoxStanding.AS_WRITTEN
    shares = {part: design.base[part].share for part in ("tail", "body", "thorax")}
    # Sixty barbs to a feather; twelve at most are wound (rules/conventions.toml).
    assert shares == {"tail": Fraction(4, 60), "body": Fraction(12, 60), "thorax": Fraction(12, 60)}


@pytest.mark.parametrize(("fibres", "is_enough"), [(6, True), (7, False)])
def test_shares_are_summed_exactly(fibres: int, is_enough: bool) -> None:
    # Half a feather gives thirty barbs; body and thorax take twenty-four of them.
    base = fly({**NYMPH, "tail": f"{FEATHER} | fibres = {fibres}"}, style="nymph")
    _design, found = propose(base, held("0.5 feather"), best=1)
    assert bool(found and not found[0].changed) is is_enough


def test_amounts_reckon_with_the_same_shares() -> None:
    design, found = propose(nymph(), held("1 feather"), best=1)
    layout = load_layout()
    uses = uses_of(fly_geometry(design, layout, found[0]), found[0].chosen, layout)
    taken = {use.part: use.pieces for use in uses if use.ingredient.material.id == FEATHER}
    assert taken == {part: float(design.base[part].share or 0) for part in taken}
    (supply,) = (one for one in supplies(uses) if "tail" in one.parts)
    assert supply.parts == ("tail", "body", "thorax")
    assert supply.flies == 2  # 60 barbs at 28 a fly


def test_a_wound_hackle_takes_its_feather_whole() -> None:
    parts = {
        "hook": "hook-dry-standard",
        "thread": "thread-polyester, black",
        "tail": "rooster-neck-dry, ginger | fibres = 6",
        "body": "synthetic-fine-dubbing, black",
        "hackle": "rooster-neck-dry, ginger",
    }
    rows = [
        "hooks,hook-dry-standard,,14,,20 hooks",
        "thread,thread-polyester,black,,,30 m",
        "body,synthetic-fine-dubbing,black,,,",
    ]
    for amount, is_written in (("1 feather", False), ("4 feathers", True)):
        stock = box([*rows, f"cape,rooster-neck-dry,ginger,,2-30 mm,{amount}"])
        design = build_problem(Request(fly(parts), stock), rulebook())
        assert all(one.share is None for one in design.domains["hackle"])
        _design, found = propose(fly(parts), stock, best=1)
        assert bool(found and not found[0].changed) is is_written


def test_what_is_counted_in_pieces_is_no_feather() -> None:
    _design, found = propose(nymph(), held("1 piece"), best=1)
    assert not found or found[0].changed
