"""What stands in for a material: laws over every material of the tables, place and box."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples, most_are_slow
from tests.real import example_box, rulebook
from variants.explain.dyeing import ANY, BLEACHED, can_dye, makers_colours
from variants.explain.instead import find_stand_ins
from variants.explain.shades import find_shades
from variants.explain.stand_ins import StandIn, StandInQuery, StandIns
from variants.model import Colour, Material
from variants.rulebook import lab
from variants.rulebook.likeness import Likeness

TRADE = rulebook().trade
LIKENESS = rulebook().likeness


def questions() -> st.SearchStrategy[StandInQuery]:
    """A material at a part that it serves, of a style that has the part."""
    places = [
        (material, part.part, style.id)
        for material in sorted(TRADE.materials.values(), key=lambda one: one.id)
        for style in TRADE.styles.values()
        for part in style.parts
        if part.part != "hook" and material.functions & TRADE.parts[part.part].functions
    ]
    return st.sampled_from(places).map(lambda place: StandInQuery(*place))


def all_of(found: StandIns) -> list[StandIn]:
    return [one for answer in found.answers for one in (answer.first, *answer.likewise)]


@given(questions())
@settings(max_examples=examples(60), deadline=None)
def test_terms_sum_to_the_distance_and_each_has_a_source(asked: StandInQuery) -> None:
    for one in all_of(find_stand_ins(LIKENESS, asked)):
        assert one.distance == sum(term.cost for term in one.terms)
        assert all(term.says and term.source for term in one.terms)
        assert one.material.id != asked.material.id


@given(questions())
@settings(max_examples=examples(60), deadline=None)
def test_after_the_first_answers_go_by_distance(asked: StandInQuery) -> None:
    found = find_stand_ins(LIKENESS, asked)
    distances = [answer.first.distance for answer in found.answers]
    # The first may be farther than the next: what no place bars goes before what some do.
    assert distances[1:] == sorted(distances[1:])
    if distances and distances[0] != min(distances):
        assert not found.answers[0].first.material.restriction


@given(questions())
@settings(max_examples=examples(60), deadline=None)
def test_what_does_not_serve_says_why_and_is_not_offered(asked: StandInQuery) -> None:
    found = find_stand_ins(LIKENESS, asked)
    offered = {one.material.id for one in all_of(found)}
    for unfit in found.unfit:
        assert unfit.needs
        assert all(need.says and need.source for need in unfit.needs)
        assert unfit.material.id not in offered


@given(questions(), st.randoms(use_true_random=False))
@settings(max_examples=examples(30), deadline=None)
def test_the_order_of_the_tables_does_not_matter(asked: StandInQuery, chance: object) -> None:
    shuffled = list(TRADE.materials.items())
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    trade = replace(TRADE, materials=dict(shuffled))
    other = find_stand_ins(Likeness(trade, LIKENESS.tables), asked)
    mine = find_stand_ins(LIKENESS, asked)
    assert [one.material.id for one in all_of(other)] == [one.material.id for one in all_of(mine)]


@given(questions())
@settings(max_examples=examples(40), deadline=None)
def test_a_box_offers_only_what_it_holds(asked: StandInQuery) -> None:
    box = example_box()
    held = {item.id for item in box.items}
    kept = {item.material.id for item in box.items}
    for one in all_of(find_stand_ins(LIKENESS, asked, box)):
        assert one.items
        assert {item.id for item in one.items} <= held
        assert one.material.id in kept


@given(questions())
@settings(max_examples=examples(40), deadline=None)
def test_what_cannot_be_had_either_is_never_an_answer(asked: StandInQuery) -> None:
    found = all_of(find_stand_ins(LIKENESS, asked))
    gone = frozenset(one.material.id for one in found[:2])
    again = all_of(find_stand_ins(LIKENESS, replace(asked, without=gone)))
    assert not gone & {one.material.id for one in again}


SHADES = st.integers(0, 0xFFFFFF).map(lambda value: f"#{value:06X}")
COLOURS = st.sampled_from(sorted(TRADE.colours.values(), key=lambda one: one.id))
MATERIALS = st.sampled_from(sorted(TRADE.materials.values(), key=lambda one: one.id))
#: What was once told to be one stuff because the grades are near, and is not.
FALSE_NAMES = {
    frozenset(pair)
    for pair in (
        ("bucktail", "black-squirrel-tail"),
        ("hen-quill", "bustard-quill"),
        ("blackbird-quill", "jay-quill"),
        ("lead-wire", "lead-foil"),
        ("tinsel-oval-gold", "tinsel-flat-gold"),
        ("mallard-flank", "wigeon-flank"),
        ("cree-hackle", "furnace-hackle"),
        ("grizzly-hackle", "badger-hackle"),
    )
}


@given(SHADES, SHADES)
def test_a_dye_never_makes_lighter(ground: str, wanted: str) -> None:
    if can_dye(ground, wanted):
        assert lab(wanted)[0] <= lab(ground)[0]
    assert can_dye(ground, "#000000")


@given(MATERIALS, COLOURS)
@settings(max_examples=examples(300), deadline=None)
def test_stuff_is_offered_dyed_only_on_a_ground_that_takes_it(
    material: Material, wanted: Colour
) -> None:
    own = [TRADE.colours[name].hexes for name in material.colours if name != ANY]
    grounds = [shade for hexes in own for shade in hexes] or ["#FFFFFF"]
    palest = max(lab(shade)[0] for shade in grounds)
    bleached = lab(TRADE.colours[BLEACHED].hexes[0])[0]
    for shade in find_shades(LIKENESS, material, (wanted,)):
        for colour in shade.colours:
            if " dyed on " not in colour.id:
                continue
            is_bleached = "bleached, then dyed" in colour.name
            assert material.dyes_well
            assert lab(colour.hexes[0])[0] <= (bleached if is_bleached else palest)
            assert not is_bleached or any("bleached" in term.says for term in shade.terms)


@given(MATERIALS, COLOURS)
@settings(max_examples=examples(300), deadline=None)
def test_what_takes_no_dye_comes_in_its_own_colours_and_those_it_is_made_in(
    material: Material, wanted: Colour
) -> None:
    made = {colour.id for colour in makers_colours(LIKENESS)}
    for shade in find_shades(LIKENESS, material, (wanted,)):
        for colour in shade.colours if not material.dyes_well else ():
            assert colour.id in {*material.colours, *made} or colour.marking == "metallic"
            assert "dyed" not in {term.says for term in shade.terms}


@given(MATERIALS, COLOURS)
@settings(max_examples=examples(300), deadline=None)
def test_nothing_is_offered_clear_that_does_not_come_so(material: Material, wanted: Colour) -> None:
    clear = {colour for colour in TRADE.colours.values() if colour.marking == "clear"}
    assert clear
    for shade in find_shades(LIKENESS, material, (wanted,)):
        offered = {colour.id for colour in shade.colours} & {colour.id for colour in clear}
        assert offered <= {*material.colours}


@pytest.mark.parametrize("share", most_are_slow(range(6), 1))
def test_the_same_stuff_by_another_name_comes_from_the_table_with_its_source(share: int) -> None:
    told = 0
    table = {frozenset((pair.material, pair.of)): pair for pair in LIKENESS.tables.same}
    assert not FALSE_NAMES & set(table)
    for material in [*TRADE.materials.values()][share::6]:
        for part, style in (("hackle", "dry-upright"), ("wing", "streamer"), ("body", "nymph")):
            if material.functions & TRADE.parts[part].functions:
                for name in find_stand_ins(LIKENESS, StandInQuery(material, part, style)).same:
                    pair = table[frozenset((material.id, name.material.id))]
                    assert (name.says, name.source) == (pair.says, pair.source)
                    told += 1
    assert told


def test_a_name_for_one_colour_is_the_same_stuff_in_that_colour_only() -> None:
    neck, grizzle = TRADE.materials["rooster-neck-dry"], TRADE.colours["grizzly"]
    asked = StandInQuery(neck, "hackle", "dry-upright", grizzle)
    assert [one.material.id for one in find_stand_ins(LIKENESS, asked).same] == ["grizzly-hackle"]
    asked = replace(asked, colour=TRADE.colours["black"])
    assert find_stand_ins(LIKENESS, asked).same == ()


def test_one_natural_colour_is_no_name_for_another() -> None:
    flank = TRADE.materials["mallard-flank"]
    assert find_stand_ins(LIKENESS, StandInQuery(flank, "wing", "dry-upright")).same == ()
    lemon = StandInQuery(flank, "wing", "dry-upright", TRADE.colours["wood-duck-lemon"])
    (name,) = find_stand_ins(LIKENESS, lemon).same
    assert name.material.id == "mallard-dyed-lemon"
