"""A dressing adapted to a water: both numbers recompute, the front is whole, kin is kept."""

from __future__ import annotations

from functools import cache
from itertools import product

import pytest

from tests.real import EXAMPLES, box, example, example_box, fly, rulebook
from variants.model import Box, Dressing
from variants.reading import TomlDocument
from variants.regions import (
    Adaptation,
    Place,
    RegionalWeights,
    adapt,
    load_law,
    load_weights,
    places_of,
    read_places,
    target_for,
)
from variants.regions.adapting import Distance
from variants.regions.choices import regional_choices

REGION = """\
name = "Trial"
[[water]]
name = "Long pool"
speed = "{speed}"
clarity = "{clarity}"
surface = "smooth"
depth = "{depth}"
[[natural]]
name = "small olive"
order = "mayflies"
stage = "{stage}"
months = "May"
shortest_mm = 5
longest_mm = 6
body = "olive"
legs = "ginger"
wing = "pale blue dun"
"""
DUN = {
    "hook": "dry fly hook",
    "thread": "polyester tying thread, brown",
    "body": "rabbit fur, brown",
    "hackle": "rooster-neck-dry, brown | turns_behind = 3\nturns_front = 3",
}
STOCK = [
    "hook14,dry fly hook,,14,,20 hooks",
    "hook16,dry fly hook,,16,,20 hooks",
    "hook18,dry fly hook,,18,,20 hooks",
    "thread,polyester tying thread,brown,,,20 m",
    "fur brown,rabbit fur,brown,,,2 g",
    "fur olive,rabbit fur,olive,,,2 g",
    "neck brown,rooster-neck-dry,brown,12-18,,40 feathers",
    "neck ginger,rooster-neck-dry,ginger,12-18,,40 feathers",
    "neck dun,rooster-neck-dry,medium dun,14-16,,3 feathers",
]


@cache
def weights() -> RegionalWeights:
    return load_weights(rulebook().trade)


def place(
    speed: str = "slow", clarity: str = "clear", depth: str = "0.5 m", stage: str = "adult"
) -> Place:
    text = REGION.format(speed=speed, clarity=clarity, depth=depth, stage=stage)
    law = load_law(rulebook().trade)
    return places_of(TomlDocument(text, "trial.toml"), rulebook().trade, law)[0]


def adapted(base: Dressing, stock: Box, where: Place, within: float = 1.0) -> Adaptation:
    target = target_for(base, where, rulebook(), weights())
    return adapt(base, stock, rulebook(), target, within=within)


def valley(name: str) -> Place:
    law = load_law(rulebook().trade)
    return read_places(EXAMPLES / "regions" / f"{name}.toml", rulebook(), law)[0]


@cache
def small_box() -> Box:
    return box(STOCK)


@pytest.mark.parametrize("speed", ["slow", "medium", "fast"])
@pytest.mark.parametrize("within", [0.3, 1.0])
def test_the_front_is_that_of_a_look_at_every_fly(speed: str, within: float) -> None:
    found = adapted(fly(DUN, sizes="14-16"), small_box(), place(speed), within)
    design, distance = found.design, Distance(found.design, found.target)
    choices = regional_choices(design, found.target, round(1000 * within))
    costs = set()
    for chosen in product(*choices.values()):
        by_part = dict(zip(choices, chosen, strict=True))
        beside = [(one, [by_part[part] for part in one.parts]) for one in design.constraints]
        if all(one.allows(those) for one, those in beside):
            departure = sum(one.cost for one in chosen)
            departure += sum(one.cost(those) for one, those in beside)
            if departure <= 1000 * within:
                costs.add((departure, sum(map(distance.of, chosen))))
    front = sorted(
        here
        for here in costs
        if not any(o != here and o[0] <= here[0] and o[1] <= here[1] for o in costs)
    )
    assert [(one.departure, one.distance) for one in found.front] == front
    assert within < 1 or len(front) > 1


@pytest.mark.parametrize("water", ["lower-wendle", "skirl-burn", "merrel-tarn"])
@pytest.mark.parametrize("name", ["ferrymans-dun", "tollgate-amber", "packhorse-badger"])
def test_both_numbers_are_the_sums_of_their_terms(name: str, water: str) -> None:
    found = adapted(example(name), example_box(), valley(water))
    assert found.front
    for one in found.front:
        own = sum(candidate.cost for candidate in one.variant.chosen.values())
        assert one.departure == own + sum(term.cost for term in one.variant.rule_terms)
        assert one.distance == sum(term.cost for terms in one.terms.values() for term in terms)
        assert one.departure <= found.within
    departures = [one.departure for one in found.front]
    distances = [one.distance for one in found.front]
    assert departures == sorted(set(departures))
    assert distances == sorted(set(distances), reverse=True)


@pytest.mark.parametrize("water", ["lower-wendle", "skirl-burn", "merrel-tarn"])
def test_what_makes_the_fly_itself_stays_of_its_kind(water: str) -> None:
    base = example("packhorse-badger")
    signed = {part.id: part.ingredients[0].material for part in base.parts if part.signature}
    assert signed
    for one in adapted(base, example_box(), valley(water)).front:
        for part, wanted in signed.items():
            (found,) = one.variant.chosen[part].ingredients
            assert rulebook().likeness.is_same_kind(wanted, found.material)


def test_a_smaller_natural_brings_a_smaller_hook_at_the_far_end() -> None:
    found = adapted(fly(DUN, sizes="14-16"), small_box(), place())
    assert found.target.hook_size == 19
    sizes = [one.variant.chosen["hook"].attributes["size"] for one in found.front]
    assert sizes[0] == 16  # the dressing's own
    assert sizes[-1] == 18


def test_fast_water_brings_more_turns_and_coloured_water_more_than_clear() -> None:
    turns = {
        (speed, clarity): adapted(fly(DUN), small_box(), place(speed, clarity), 2.0)
        .front[-1]
        .variant.chosen["hackle"]
        .attributes["turns"]
        for speed in ("slow", "fast")
        for clarity in ("clear", "coloured")
    }
    assert turns["slow", "clear"] < turns["slow", "coloured"]
    assert turns["slow", "coloured"] < turns["fast", "clear"] < turns["fast", "coloured"]


def test_turns_behind_and_before_the_wing_still_add_up() -> None:
    for one in adapted(fly(DUN), small_box(), place("fast", "coloured"), 2.0).front:
        attributes = one.variant.chosen["hackle"].attributes
        assert attributes["turns"] == attributes["turns_behind"] + attributes["turns_front"]


def test_deeper_water_asks_for_a_fly_that_sinks_faster_and_fast_water_too() -> None:
    spider = fly({"hook": "wet fly hook", "body": "silk floss, brown"}, "soft hackle")

    def sinking(speed: str, depth: str) -> int | None:
        where = place(speed, depth=depth, stage="nymph")
        return target_for(spider, where, rulebook(), weights()).sinking_class

    assert [sinking("slow", depth) for depth in ("0.4 m", "1 m", "3 m", "6 m")] == [0, 1, 2, 3]
    assert sinking("fast", "0.4 m") == 1
    floating = fly(DUN)
    assert target_for(floating, place(), rulebook(), weights()).sinking_class is None


def test_a_colour_off_the_palette_is_farther_from_the_target() -> None:
    law = load_law(rulebook().trade)
    text = REGION.format(speed="slow", clarity="clear", depth="1 m", stage="adult")
    text += '[palette]\nhackle = ["ginger"]\n'
    (painted,) = places_of(TomlDocument(text, "trial.toml"), rulebook().trade, law)
    base = fly(DUN)
    plain = target_for(base, place(), rulebook(), weights())
    asked = target_for(base, painted, rulebook(), weights())
    design = adapt(base, small_box(), rulebook(), plain).design
    brown, ginger = (
        next(
            one
            for one in design.domains["hackle"]
            if [i.colour.id for i in one.ingredients if i.colour] == [colour]
        )
        for colour in ("brown", "ginger")
    )

    def off(target: object, candidate: object) -> int:
        return sum(term.cost for term in target.terms(candidate, []))  # type: ignore[attr-defined]

    assert off(asked, brown) == off(plain, brown) + 100
    assert off(asked, ginger) == off(plain, ginger)


def test_a_natural_of_the_right_stage_is_chosen_first() -> None:
    text = REGION.format(speed="slow", clarity="clear", depth="1 m", stage="nymph")
    second = text[text.index("[[natural]]") :].replace('"small olive"', '"fly"')
    second = second.replace('"nymph"', '"adult"').replace('"olive"', '"hot pink"')
    law = load_law(rulebook().trade)
    (both,) = places_of(TomlDocument(text + second, "trial.toml"), rulebook().trade, law)
    assert target_for(fly(DUN), both, rulebook(), weights()).natural.name == "fly"


def test_nothing_is_kin_enough_where_nothing_near_is_in_the_box() -> None:
    found = adapted(example("merrel-snipe"), example_box(), valley("merrel-tarn"), 0.2)
    assert found.front == ()
    assert found.chosen is None
