"""The same fly stands the same whichever command is asked: departure, as written or not."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from tests.reading.test_plain import glossary
from tests.real import box, example, example_box, fly, rulebook
from variants.design import Request, build_problem, stock_of
from variants.design.search import search
from variants.explain import find_all_conflicts, find_repairs
from variants.model import Box, Dressing
from variants.reading.words import read_plain
from variants.rulebook import Rulebook
from variants.survey import BoxStanding, Wishes, survey
from variants.survey.case import Case
from variants.survey.lower_bounds import NEVER
from variants.survey.purchases import find_purchases

BARBS = "2-30 mm"
BASE = {
    "hook": "hook-dry-standard",
    "thread": "thread-polyester, black",
    "tail": "rooster-spade, ginger",
    "body": "synthetic-fine-dubbing, medium-olive",
    "hackle": "rooster-neck-dry, ginger"
    ' | or = [{ material = "rooster-neck-dry", colour = "brown" }]',
}
ROWS = (
    "hooks,hook-dry-standard,,{size},,20 hooks",
    "thread,thread-polyester,black,,,30 m",
    f"spade,rooster-spade,ginger,,{BARBS},",
    "dubbing,synthetic-fine-dubbing,medium-olive,,,",
    f"cape,rooster-neck-dry,{{hackle}},,{BARBS},",
)


def held(size: int = 14, hackle: str = "ginger", without: Iterable[str] = ()) -> Box:
    rows = [row.format(size=size, hackle=hackle) for row in ROWS]
    return box([row for row in rows if row.split(",")[0] not in set(without)])


def standings(dressing: Dressing, stock: Box, rules: Rulebook) -> set[tuple[int | None, bool]]:
    """Return every answer to "how far does the nearest depart, and is it as written?".

    Of `propose`, `tieable` and `buy`, which reckons from how the box stands.
    """
    design = build_problem(Request(dressing, stock), rules)
    nearest = search(design, 1).variants
    told: set[tuple[int | None, bool]] = set()
    told.add((nearest[0].departure, not nearest[0].changed) if nearest else (None, False))
    (outlook,) = survey([dressing], [("box", stock)], rules).outlooks
    told.add((outlook.departure, outlook.standing is BoxStanding.AS_WRITTEN))
    case = Case(Request(dressing, stock), rules, stock_of(stock))
    departure = None if case.departure == NEVER else case.departure
    told.add((departure, departure is not None and not case.changed))
    return told


@pytest.mark.parametrize("size", [12, 14, 16])
@pytest.mark.parametrize("hackle", ["ginger", "brown"])
def test_what_the_dressing_names_costs_nothing(size: int, hackle: str) -> None:
    dressing, stock = fly(BASE, sizes="12-16"), held(size, hackle)
    assert standings(dressing, stock, rulebook()) == {(0, True)}
    # Nothing that could be bought brings nearer what is as written.
    assert not find_purchases([dressing], stock, rulebook()).single


def test_a_size_asked_for_departs_as_it_does_when_it_is_a_way_out() -> None:
    dressing, stock = fly(BASE, sizes="12-16"), held(18)
    design = build_problem(Request(dressing, stock), rulebook())
    ways = find_repairs(design, find_all_conflicts(design))
    (way,) = [one for one in ways if one.says == "tie it on a hook size 18"]
    asked = search(build_problem(Request(dressing, stock, (18,)), rulebook()), 1).variants
    (outlook,) = survey([dressing], [("box", stock)], rulebook(), Wishes((18,))).outlooks
    assert way.variant.departure == asked[0].departure == outlook.departure
    # A whole size step, two even sizes being one: 0.25 at the hook's weight of 0.6.
    assert asked[0].departure == 150
    assert asked[0].changed == ("hook",)


def test_a_purchase_may_be_what_the_author_allows_as_well() -> None:
    dressing = fly(BASE)
    bought = find_purchases([dressing], held(without=["cape"]), rulebook()).single
    written = {one.offers[0].ingredient.words for one in bought if one.as_written}
    assert {words.split()[0] for words in written} == {"ginger", "brown"}


def test_what_may_be_left_out_by_its_author_is_as_written_without() -> None:
    dressing = fly({**BASE, "tail": 'rooster-spade, ginger | or = ["nothing"]'})
    assert standings(dressing, held(without=["spade"]), rulebook()) == {(0, True)}


def test_a_rule_that_an_alternative_breaks_does_not_forbid_it() -> None:
    hen = '{ material = "hen-neck", colour = "ginger" }'
    dressing = fly({**BASE, "hackle": f"rooster-neck-dry, ginger | or = [{hen}]"})
    rows = [row.format(size=14, hackle="ginger") for row in ROWS if not row.startswith("cape")]
    stock = box([*rows, f"hen,hen-neck,ginger,,{BARBS},"])
    assert standings(dressing, stock, rulebook()) == {(0, True)}


def test_what_is_as_written_in_one_way_is_no_substitute_in_another() -> None:
    design = build_problem(Request(fly(BASE), held(hackle="brown")), rulebook())
    hackles = [one for one in design.domains["hackle"] if "cape" in one.items[0][0].id]
    assert [(one.cost, one.is_changed) for one in hackles] == [(0, False)]
    assert [one.words for one in hackles[0].ingredients] == ["brown cock neck hackle, dry grade"]


@pytest.mark.parametrize("name", ["ferrymans-dun", "sluice-midge", "packhorse-badger"])
def test_a_dressing_of_the_valley_has_one_verdict(name: str) -> None:
    assert len(standings(example(name), example_box(), rulebook())) == 1


SEDGE = {
    "hook": "hook-dry-standard",
    "thread": "thread-polyester, black",
    "body": "synthetic-fine-dubbing, black",
    "wing": "foam-closed-cell, black | signature = true",
}
OTHERS = ("marabou,marabou,black,,,", "deer,deer-body,deer-natural,,,", "cdc,cdc,white,,,")


def test_the_part_that_makes_a_fly_stays_of_its_kind_whoever_asks() -> None:
    dressing = fly(SEDGE, style="down wing")
    rows = [row.format(size=14, hackle="") for row in ROWS[:2]]
    stock = box([*rows, "body,synthetic-fine-dubbing,black,,,", *OTHERS])
    assert standings(dressing, stock, rulebook()) == {(None, False)}
    design = build_problem(Request(dressing, stock), rulebook())
    ways = find_repairs(design, find_all_conflicts(design))
    assert ways
    assert not any("leave out the wing" in one.says for one in ways)
    assert all(one.variant.chosen["wing"].ingredients[0].material.kind == "foam" for one in ways)
    # Another foam is of its kind.
    held = box([*rows, "body,synthetic-fine-dubbing,black,,,", "strip,foam-strip-thin,black,,,"])
    ((departure, is_written),) = standings(dressing, held, rulebook())
    assert departure
    assert not is_written


def test_plain_words_know_what_makes_a_fly_of_its_style() -> None:
    words = "Bank Sedge\nStyle: down wing\nHook: dry fly 12\nBody: black dubbing\nWing: {wing}\n"
    for wing, is_signature in (("natural deer hair", True), ("mottled turkey quill", False)):
        (reading,) = read_plain(words.format(wing=wing), glossary())
        assert reading.dressing is not None
        part = reading.dressing.part("wing")
        assert part is not None
        assert (part.ingredients[0].material.kind == "hair") is is_signature
        assert part.signature is is_signature


def test_what_departs_beyond_the_ceiling_is_no_variant_of_the_survey_and_no_gain() -> None:
    dressing = fly(BASE)
    rows = [row.format(size=14, hackle="ginger") for row in ROWS[:2]]
    far = box([*rows, "wool,wool-yarn,scarlet,,,", f"cape,rooster-neck-dry,black,,{BARBS},"])
    near = search(build_problem(Request(dressing, far), rulebook()), 1).variants
    ceiling = rulebook().conventions.ceiling
    assert near[0].departure > ceiling
    (outlook,) = survey([dressing], [("box", far)], rulebook()).outlooks
    assert (outlook.standing, outlook.departure) == (BoxStanding.TOO_FAR, near[0].departure)
    (wide,) = survey([dressing], [("box", far)], rulebook(), Wishes(at_most=10 * ceiling)).outlooks
    assert wide.standing is BoxStanding.SUBSTITUTED
    gains = find_purchases([dressing], far, rulebook()).single
    for one in gains:
        best = min((closest.departure for _, closest in one.nearer), default=near[0].departure)
        assert (best <= ceiling) == (dressing.name in one.opened)
