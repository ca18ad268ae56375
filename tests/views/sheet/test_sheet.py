"""What stands on a bench sheet, and the kit of a class."""

from __future__ import annotations

from functools import cache
from math import ceil

import pytest

from tests.real import EXAMPLES, box, example, example_box, fly, propose, rulebook
from variants.geometry import fly_geometry, load_layout, uses_of
from variants.regions import load_law, read_places
from variants.views.sheet import BenchSheet, bench_sheet, load_steps

LAYOUT = load_layout()


@cache
def sheet(name: str = "ferrymans-dun", students: int = 0, each: int = 1) -> BenchSheet:
    design, found = propose(example(name), example_box(), best=1)
    trade = rulebook().trade
    return bench_sheet(
        design, LAYOUT, load_steps(trade), load_law(trade), found[0],
        students=students, flies_each=each,
    )  # fmt: skip


def test_the_dressing_is_told_in_the_traditional_order_of_the_parts() -> None:
    parts = {part.name: part.tying_order for part in rulebook().trade.parts.values()}
    order = [parts[line.part] for line in sheet().lines]
    assert order == sorted(order)
    assert [line.part for line in sheet().lines] == [
        "hook", "thread", "tail", "body", "wing", "hackle",
    ]  # fmt: skip


def test_every_thing_is_told_with_where_it_lies() -> None:
    for line in sheet().lines:
        assert line.from_box
        assert all("left" in place for place in line.from_box)
    body = next(line for line in sheet().lines if line.part == "body")
    assert body.is_changed
    assert any("fur shelf" in place for place in body.from_box)


def test_the_reasons_of_the_substitutions_add_up_to_the_departure() -> None:
    _design, found = propose(example("tenter-mill-quill"), example_box(), best=1)
    told = sheet("tenter-mill-quill").substitutions
    assert {one.part for one in told} == {"wing", "hackle"}
    costs = [float(cost) for one in told for cost, _says, _source in one.reasons]
    assert sum(costs) == pytest.approx(found[0].departure / 1000, abs=0.02)
    assert all(says for one in told for _cost, says, _source in one.reasons)


def test_a_dressing_as_written_has_no_substitutions_and_no_places() -> None:
    design, _ = propose(example("ferrymans-dun"), example_box(), best=1)
    trade = rulebook().trade
    told = bench_sheet(design, LAYOUT, load_steps(trade), load_law(trade))
    assert told.substitutions == ()
    assert not told.has_box
    assert not any(line.from_box for line in told.lines)
    assert told.which == "as written"


def test_a_class_gets_what_so_many_flies_use_and_whole_pieces() -> None:
    design, found = propose(example("ferrymans-dun"), example_box(), best=1)
    uses = uses_of(fly_geometry(design, LAYOUT, found[0]), found[0].chosen, LAYOUT)
    kit = sheet(students=7, each=3).kit
    assert len(kit) == len(uses)
    for line, use in zip(kit, uses, strict=True):
        if use.pieces is not None:
            assert line.in_all == str(ceil(use.pieces * 21 - 1e-9))
            assert line.each_place == str(ceil(use.pieces * 3 - 1e-9))
    thread = next(line for line in kit if line.part == "thread")
    length = next(use.length_mm for use in uses if use.part == "thread")
    assert length is not None
    assert thread.in_all == f"{length * 21 / 1000:.2f} m"


def test_what_the_box_lacks_for_the_class_is_told() -> None:
    wing = next(line for line in sheet(students=6, each=2).kit if line.part == "wing")
    assert (wing.gives, wing.short_of) == (6, 6)
    hook = next(line for line in sheet(students=6, each=2).kit if line.part == "hook")
    assert hook.short_of == 0


def test_a_place_tells_its_law_and_what_its_water_asks() -> None:
    trade = rulebook().trade
    law = load_law(trade)
    place = read_places(EXAMPLES / "regions" / "skirl-burn.toml", rulebook(), law)[0]
    design, found = propose(example("ferrymans-dun"), example_box(), best=1)
    told = bench_sheet(design, LAYOUT, load_steps(trade), law, found[0], place=place)
    assert told.place == place.name
    assert "no lead" in told.asks
    assert "check" in told.cautions.advice
    assert any("glasses" in one.says for one in told.cautions.hazards)


def test_a_quarter_inch_gape_wants_three_eighths_of_an_inch_of_hackle() -> None:
    # flyfishingguy.com, reprint chapter "Hackle": 1/4 in of gape gives 3/8 in of barbs, as quoted
    # in rules/proportions.tsv.
    columns = "item,material,colour,sizes,gape,amount"
    rows = [
        "measured hooks,dry fly hook,,10,1/4 in,9 hooks",
        "thread,polyester tying thread,black,,,30 m",
        "mole,mole fur,,,,1 g",
        "cape,rooster-neck-dry,brown,6-16,,40 feathers",
    ]
    parts = {
        "hook": "dry fly hook",
        "thread": "polyester tying thread, black",
        "body": "mole fur",
        "hackle": "rooster-neck-dry, brown",
    }
    design, found = propose(fly(parts, sizes="10"), box(rows, columns), best=1)
    trade = rulebook().trade
    told = bench_sheet(design, LAYOUT, load_steps(trade), load_law(trade), found[0])
    target = next(step.target for step in told.steps if step.part == "hackle")
    assert target is not None
    assert target.inches == "3/8"
    assert target.right_mm == pytest.approx(9.525)


def test_no_turns_stand_behind_a_wing_that_is_not_there() -> None:
    parts = {
        "hook": "dry fly hook",
        "thread": "silk thread, brown",
        "tail": "cock neck, ginger",
        "body": "cock pheasant tail",
        "wing": "mallard flank",
        "hackle": "cock neck, ginger",
    }
    for has_wing in (True, False):
        written = parts if has_wing else {one: of for one, of in parts.items() if one != "wing"}
        design, _ = propose(fly(written), example_box(), best=0)
        trade = rulebook().trade
        told = bench_sheet(design, LAYOUT, load_steps(trade), load_law(trade), None)
        (hackle,) = (line.counts for line in told.lines if line.part == "hackle")
        (step,) = (step.says for step in told.steps if step.part == "hackle")
        assert "7 turns" in hackle
        assert ("behind" in hackle) is has_wing
        assert ("behind the wing" in step) is has_wing
