"""Several stuffs in one part: every way is there, nearest first, and no question is too dear."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import combinations, permutations
from random import Random
from time import process_time

import pytest

from tests.breadth import seeds
from tests.build import SMALL, item
from tests.real import example, example_box, rulebook
from variants.design import (
    CandidateBatch,
    Domain,
    LazyBatch,
    Request,
    TimeUpError,
    Watch,
    build_problem,
)
from variants.design.multisets import Multisets
from variants.design.search import Ended, search, search_needed, search_within
from variants.design.stock import Lot, Stuff
from variants.explain import find_all_conflicts
from variants.model import Candidate, Dressing, Ingredient, Way
from variants.reading import InputError, TomlDocument, parse_dressing
from variants.reading.words import load_glossary, read_plain
from variants.rulebook import own_rules_folder


def stuffs_of(chance: Random, count: int) -> list[Stuff]:
    """Return stuffs of one to three lots each; only their keys and numbers matter."""
    made = []
    for number in range(count):
        stuff = Ingredient(SMALL.materials["silk"], replace(SMALL.colours["olive"], id=f"{number}"))
        lots = [
            Lot(stuff, (item(f"{chance.random():.6f}", "silk", "primrose"),), None)
            for _ in range(chance.choice((1, 1, 2, 3)))
        ]
        made.append(Stuff(stuff, tuple(sorted(lots, key=lambda lot: lot.key))))
    return made


def by_hand(
    stuffs: list[Stuff], costs: list[list[int | None]], asked: frozenset[int] | None
) -> dict[tuple[str, ...], tuple[int, tuple[tuple[str, ...], ...]]]:
    """Return every set of lots with its cheapest order, of equals the first by its keys."""
    owned = [(number, lot) for number, stuff in enumerate(stuffs) for lot in stuff.lots]
    found = {}
    for several in combinations(owned, len(costs)):
        if asked is not None and not asked & {number for number, _ in several}:
            continue
        orders = []
        for order in permutations(several):
            told = [costs[place][number] for place, (number, _) in enumerate(order)]
            if None not in told:
                orders.append((sum(filter(None, told)), tuple(lot.key for _, lot in order)))
        if orders:
            found[tuple(sorted(lot.item.id for _, lot in several))] = min(orders)
    return found


@pytest.mark.parametrize("seed", seeds(range(60)))
def test_every_set_of_lots_stands_once_at_its_cheapest_order_nearest_first(seed: int) -> None:
    chance = Random(seed)
    stuffs = stuffs_of(chance, chance.randint(1, 5))
    places = chance.randint(2, 4)
    costs = [
        [chance.choice((None, 0, 0, 5, 10, chance.randint(0, 40))) for _ in stuffs]
        for _ in range(places)
    ]
    asked = frozenset({chance.randrange(len(stuffs))}) if seed % 3 == 0 else None

    def make(lots: object) -> Candidate:
        key = tuple(word for lot in lots for word in lot.key)  # type: ignore[attr-defined]
        return Candidate("hackle", Way.MIXED, (), (), {}, (), key)

    domain = Domain(Multisets(stuffs, costs, make, None, asked, extra=7).find_batches())
    found, place = {}, 0
    told = []
    while (cost := domain.cost(place)) is not None:
        for one in domain.made(place):
            order = tuple(one.key[at : at + 3] for at in range(0, len(one.key), 3))
            made_of = tuple(sorted(lot[2] for lot in order))
            assert made_of not in found
            found[made_of] = cost - 7, order
        told.append(cost)
        place += 1
    assert told == sorted(told)
    assert found == by_hand(stuffs, costs, asked)


def dun_with(colours: int) -> Dressing:
    """Return the example dun with so many colours of cock wound in its hackle."""
    dun = example("ferrymans-dun")
    hackle = dun.part("hackle")
    assert hackle is not None
    cock = hackle.ingredients[0].material
    wound = tuple(Ingredient(cock, rulebook().trade.colours[one]) for one in cock.colours[:colours])
    assert len(wound) == colours
    hackle = replace(hackle, ingredients=wound)
    return replace(dun, parts=tuple(hackle if one.id == "hackle" else one for one in dun.parts))


def test_eight_colours_in_one_hackle_are_a_question_like_any_other() -> None:
    begun = process_time()
    design = build_problem(Request(dun_with(8), example_box()), rulebook())
    found = search(design, 3)
    assert process_time() - begun < 10.0  # 0.3 s alone; six colours took 137 s
    assert found.ended is Ended.PROVEN
    assert len(found.variants) == 3
    hackle = design.domains["hackle"]
    assert isinstance(hackle, Domain)
    assert hackle.made_so_far < 20_000


def test_keeping_a_mix_that_the_box_has_not_is_told_at_once() -> None:
    request = Request(dun_with(8), example_box(), keep=frozenset({"hackle"}))
    design = build_problem(request, rulebook())
    assert design.empty_parts == ("hackle",)
    hackle = design.domains["hackle"]
    assert isinstance(hackle, Domain)
    assert hackle.made_so_far < 100


def test_the_time_limit_holds_while_a_problem_is_built() -> None:
    watch = Watch(1e-9)
    with pytest.raises(TimeUpError):
        build_problem(Request(dun_with(2), example_box()), rulebook(), watch=watch)


@pytest.mark.parametrize("near", [0, 3])
def test_the_time_limit_holds_while_candidates_are_made(near: int) -> None:
    def go_on() -> list[LazyBatch]:
        return [LazyBatch(1, go_on)]

    design = build_problem(Request(dun_with(2), example_box()), rulebook())
    some = [
        CandidateBatch(one.cost, partial(tuple, [one]))
        for one in [*design.domains["hackle"]][:near]
    ]
    endless = Domain([*some, LazyBatch(1, go_on)])
    design = replace(design, domains={**design.domains, "hackle": endless})
    result = search_within(design, 300, watch=Watch(0.3))
    assert result.ended is Ended.STOPPED


TOML = """
name = "Nine Turns"
style = "dry upright"
sizes = "14"
[part.hook]
material = "dry fly hook"
[part.thread]
material = "polyester tying thread"
colour = "black"
[part.body]
material = "fine synthetic dubbing"
colour = "medium olive"
[part.hackle]
material = "rooster-neck-dry"
colour = "ginger"
also = [{also}]
"""


def test_more_than_eight_stuffs_in_one_part_are_refused_with_their_place() -> None:
    also = ", ".join(['{ material = "rooster-neck-dry", colour = "grizzly" }'] * 8)
    with pytest.raises(InputError) as refused:
        parse_dressing(TomlDocument(TOML.replace("{also}", also), "nine.toml"), rulebook().trade)
    told = str(refused.value)
    assert "nine.toml:16" in told
    assert "9 materials are too many for one part" in told
    assert "8 in all" in told


def test_words_that_wind_more_than_eight_together_say_what_is_left_out() -> None:
    colours = ["ginger", "grizzly", "black", "white", "brown", "cream", "cree", "badger", "olive"]
    wound = " and ".join(f"{colour} cock" for colour in colours)
    glossary = load_glossary([own_rules_folder()], rulebook().trade)
    text = f"Nine Turns\nHook: dry fly hook 14\nThread: black\nBody: olive dubbing\nHackle: {wound}"
    (reading,) = read_plain(text, glossary, style="dry-upright")
    hackle = next(one for one in reading.parts if one.part == "hackle")
    assert len(hackle.choices[0].ingredients) == 8
    assert any("only 8 of these go into one part" in one.why for one in reading.unread)


def test_listing_what_is_needed_does_not_make_every_mix() -> None:
    design = build_problem(Request(dun_with(8), example_box()), rulebook())
    found, _ = search_needed(design, 3)
    assert found.is_finished
    hackle = design.domains["hackle"]
    assert isinstance(hackle, Domain)
    assert hackle.made_so_far < 100_000


def test_the_time_limit_holds_while_it_is_found_out_why_nothing_can_be_tied() -> None:
    request = Request(dun_with(8), example_box(), missing=frozenset({"body"}))
    bare = replace(example_box(), items=tuple(
        one for one in example_box().items if "body" not in one.material.functions
    ))  # fmt: skip
    design = build_problem(replace(request, box=bare), rulebook())
    assert design.empty_parts
    with pytest.raises(TimeUpError):
        find_all_conflicts(design, Watch(0.3))
