"""Law by place: what no row speaks of was not looked up; what one says is told with its text."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from tests.real import EXAMPLES, fly, rulebook
from variants.model import AT_HOME, STATUSES, Dressing, Standing, Statute
from variants.reading import InputError
from variants.regions import (
    Cautions,
    LawOfTheLand,
    Place,
    find_cautions,
    load_law,
    read_places,
    written_words,
)
from variants.rulebook import load_rulebook
from variants.views.law import law_lines

HEAD = (
    "id\tplace\ttaxa\twhen\torigin\tact\tstatus\tcondition\texceptions\tstatute\tsection\taddress"
    "\ttext_date\tseen\tuntil\n"
)
ROW = (
    "own-1\tuk\tLagopus lagopus\t\tany\thold\tforbidden\tno grouse\t\tclub rules\trule 4"
    "\tno address: a club's book\t2026\ttext\t2027-01-01\n"
)
ADDRESS = re.compile(r"no address: .+|[a-z0-9.-]+\.[a-z]{2,}.*")


@cache
def law() -> LawOfTheLand:
    return load_law(rulebook().trade)


def tied(parts: dict[str, str], style: str = "dry upright") -> Dressing:
    return fly({"hook": "dry fly hook", **parts}, style)


def told(hackle: str, place: str) -> Cautions:
    return find_cautions(tied({"hackle": hackle}, "soft hackle"), law(), place)


def uk() -> Place:
    path = EXAMPLES / "regions" / "merrel-tarn.toml"
    return read_places(path, rulebook(), law())[0]


def statuses(found: Cautions) -> dict[str, str]:
    return {one.statute.id: one.statute.status for one in found.law}


def own(tmp_path: Path, row: str, table: str = "statutes", head: str = HEAD) -> Path:
    (tmp_path / "law").mkdir(exist_ok=True)
    (tmp_path / "law" / f"{table}.tsv").write_text(head + row)
    return tmp_path


def test_only_stuff_that_a_law_could_speak_of_is_told_as_not_looked_up() -> None:
    parts = {"hackle": "hen neck hackle", "body": "silk floss, yellow", "tail": "jackdaw throat"}
    assert find_cautions(tied(parts), law(), "no").unknown == ("jackdaw throat",)


def test_what_was_looked_up_for_borders_alone_is_told_as_both() -> None:
    found = told("peacock herl", "uk")
    assert (statuses(found), found.unknown) == ({"borders-02": "conditional"}, ("peacock herl",))
    lines = law_lines([uk()], find_cautions(tied({"body": "mole fur"}, "soft hackle"), law(), "uk"))
    words = " ".join(" ".join(lines).split())
    assert "Looked up, crossing a border: the law does not speak of mole fur." in words
    assert "Not looked up there: mole fur." in words


def test_a_feather_that_needs_leave_comes_with_statute_section_and_advice() -> None:
    found = told("waterhen covert", "uk")
    assert statuses(found) == {"uk-04": "permit", "uk-05": "permit", "uk-06": "conditional"}
    assert found.law[0].statute.statute == "Wildlife and Countryside Act 1981"
    assert "no legal advice: check" in found.advice


def test_the_law_of_the_wider_place_holds_too_and_the_strictest_is_told_first() -> None:
    found = find_cautions(
        tied({"weight": "lead wire", "body": "peacock herl"}, "nymph"), law(), "dk"
    )
    assert [(one.place.id, one.statute.status) for one in found.law] == [
        ("dk", "forbidden"),
        ("eu", "conditional"),
        ("borders", "conditional"),
    ]


def test_one_fly_stands_differently_in_two_places() -> None:
    assert set(statuses(told("starling body feather", "us")).values()) == {"allowed"}
    assert set(statuses(told("starling body feather", "uk")).values()) == {"permit", "conditional"}


def test_where_it_depends_on_the_bird_each_answer_is_told_and_the_question_asked() -> None:
    found = told("blue jay covert", "us")
    assert {(one.only_if, one.statute.status) for one in found.law} == {
        ("blue jay", "forbidden"),
        ("European jay", "conditional"),
    }
    assert found.asks == ("blue jay covert: European jay or American blue jay?",)


def test_where_it_depends_on_the_origin_each_answer_is_told() -> None:
    found = told("mallard flank", "uk")
    assert {(one.only_if, one.statute.status) for one in found.law} == {
        ("farmed", "allowed"),
        ("wild", "conditional"),
    }


def test_what_counts_as_a_fly_is_told_on_fly_only_water_alone() -> None:
    beaded = tied({"bead": "brass bead"}, "nymph")
    on_any = find_cautions(beaded, law(), "ca-maritimes")
    assert "ca-maritimes-01" not in statuses(on_any)
    on_fly_only = find_cautions(beaded, law(), "ca-maritimes", fly_only=True)
    assert statuses(on_fly_only)["ca-maritimes-01"] == "forbidden"


def test_barbs_are_told_of_barbed_hooks_alone() -> None:
    for hook, is_told in (("dry fly hook", True), ("barbless dry fly hook", False)):
        found = find_cautions(fly({"hook": hook}, "dry upright"), law(), "us-yellowstone")
        assert ("us-yellowstone-02" in statuses(found)) is is_told


def test_what_only_size_or_line_would_tell_is_asked_and_not_judged() -> None:
    hook = fly({"hook": "barbless dry fly hook"}, "dry upright")
    found = find_cautions(hook, law(), "us-wa", fly_only=True).law
    asked = {one.statute.id for one in found if one.is_asked}
    assert asked == {"us-wa-06", "us-wa-07", "us-wa-08", "us-wa-09"}
    assert {one.statute.id for one in found} == asked


def test_hazards_are_those_that_the_dressing_calls_for() -> None:
    lead = tied({"hook": "nymph hook", "weight": "lead wire", "body": "hare's mask fur"}, "nymph")
    assert {one.id for one in find_cautions(lead, law()).hazards} == {
        "hook-point",
        "lead",
        "fur-dust",
        "moth",
        "skins",
    }
    plain = find_cautions(tied({"body": "wire copper"}, "nymph"), law())
    assert [one.id for one in plain.hazards] == ["hook-point"]


@pytest.mark.parametrize(
    ("hazard", "limits"),
    [
        ("solvent", ("toluene 200 ppm", "methyl ethyl ketone 200 ppm", "acetone 500 ppm")),
        ("moth", ("Naphthalene: 10 ppm", "Paradichlorobenzene: 10 ppm", "75", "1.7", "50")),
        ("skins", ("60 C in 30 min", "56 C in 3 h", "Borax", "10 mg", "from memory")),
        ("resin", ("acrylate", "from memory")),
        ("feather-dust", ("0.5 to 7.5 per cent",)),
    ],
)
def test_hazards_carry_their_published_limits(hazard: str, limits: tuple[str, ...]) -> None:
    assert all(one in law().hazards[hazard].limits for one in limits)


def test_no_place_named_tells_no_law() -> None:
    found = find_cautions(tied({"hackle": "waterhen covert"}, "soft hackle"), law())
    assert (found.law, found.unknown, found.asks, found.advice) == ((), (), (), "")


def test_a_place_that_nobody_knows_is_refused() -> None:
    with pytest.raises(KeyError, match="atlantis"):
        told("grouse", "atlantis")


@pytest.mark.parametrize("row", law().statutes.values(), ids=lambda one: one.id)
def test_every_row_has_an_address_and_the_date_of_its_text(row: Statute) -> None:
    assert row.status in STATUSES
    assert ADDRESS.fullmatch(row.address)
    assert row.text_date == "undated" or re.search(r"(1[89]|20)\d\d", row.text_date)


def test_a_row_that_nobody_saw_says_so() -> None:
    for row in law().statutes.values():
        if row.address.startswith("no address: from memory"):
            assert row.seen == "memory"


def test_a_text_past_its_day_may_have_lapsed() -> None:
    row = law().statutes["uk-england-01"]
    assert "text of 2024-01-01, read" in written_words(row, date(2024, 12, 31))
    assert "text of 2024-01-01, may have lapsed" in written_words(row, date(2025, 1, 1))
    assert "lapsed" not in written_words(replace(row, until=None), date(2099, 1, 1))


def test_every_place_that_a_caution_names_has_a_row_that_says_so() -> None:
    tables = rulebook().trade.law
    places = {one.name: one.id for one in tables.jurisdictions.values()}
    names = sorted(places, key=len, reverse=True)
    seen = 0
    for material in rulebook().trade.materials.values():
        rest = material.caution
        for name in names:
            if name in rest:
                rest, seen = rest.replace(name, ""), seen + 1
                assert any(
                    row.place == places[name]
                    and row.status not in ("allowed", "silent")
                    and not AT_HOME.isdisjoint(row.acts)
                    for row in tables.rows_of(material)
                ), (material.id, name)
    assert seen > 150


def test_every_stuff_that_a_wide_place_bars_carries_a_caution_that_says_whom_to_ask() -> None:
    tables = rulebook().trade.law
    for material in rulebook().trade.materials.values():
        for place in ("us", "uk", "eu", "ca"):
            if tables.verdict(material, (place,)).standing is not Standing.FREE:
                assert tables.jurisdictions[place].name in material.caution, material.id
                assert "check with the local authority" in material.caution.lower()


@pytest.mark.parametrize("group", ["US protected bird", "Annex II", "UK other wild bird"])
def test_no_protected_bird_is_without_a_caution(group: str) -> None:
    trade = rulebook().trade
    for material in trade.materials.values():
        of_group = [one for one in material.taxa if group in trade.law.taxa[one].groups]
        if of_group and "farmed" not in material.origins:
            assert material.restriction, material.id


def test_a_row_of_ones_own_is_added(tmp_path: Path) -> None:
    trade = load_rulebook([own(tmp_path, ROW)]).trade
    found = find_cautions(tied({"hackle": "grouse"}), load_law(trade, [tmp_path]), "uk")
    assert [one.statute.id for one in found.law] == ["own-1", "uk-09"]
    assert "barred (United Kingdom)" in trade.material_names["grouse"].caution


def test_ones_own_row_tells_which_bird_is_in_the_box(tmp_path: Path) -> None:
    head = "material\ttaxa\torigins\tweighs\task\n"
    trade = load_rulebook(
        [own(tmp_path, "jay-blue\tGarrulus glandarius\twild\t\t\n", "stuffs", head)]
    ).trade
    jay = trade.materials["jay-blue"]
    assert trade.law.verdict(jay, ("us",)).standing is Standing.CONDITIONAL
    jay = rulebook().trade.materials["jay-blue"]
    assert rulebook().trade.law.verdict(jay, ("us",)).standing is Standing.BARRED


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("Lagopus lagopus", "Lagopus lagopis", "Lagopus lagopis"),
        ("\tuk\t", "\tuq\t", "'uq' is not a jurisdiction"),
        ("forbidden", "barred", "barred"),
        ("forbidden", "depends", "depends"),
        ("\thold\t", "\teat\t", "'eat' is no act"),
        ("\t2026\t", "\tlately\t", "'lately' names no year"),
        ("2027-01-01", "next year", "'next year' is no day"),
        ("Lagopus lagopus", "", "speaks of nothing"),
    ],
)
def test_a_wrong_row_is_located(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        load_rulebook([own(tmp_path, ROW.replace(old, new))])
    (fault,) = refused.value.faults
    assert said in fault.problem
    assert fault.origin.line == 2
    assert fault.origin.file.endswith("statutes.tsv")


@pytest.mark.parametrize(
    ("when", "said"),
    [
        ("hook barbed perhaps", "is no test of a fly"),
        ("hock barbed yes", "'hock' is no part of a fly"),
        ("hook barb yes", "'barb' is no attribute"),
        ("line colour yes", "'colour' is not said of a line"),
    ],
)
def test_a_test_that_nobody_can_judge_is_located(tmp_path: Path, when: str, said: str) -> None:
    row = ROW.replace("\tLagopus lagopus\t\t", f"\t\t{when}\t")
    trade = load_rulebook([own(tmp_path, row)]).trade
    with pytest.raises(InputError, match=said):
        load_law(trade, [tmp_path])


def test_an_id_that_stands_twice_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'own-1' already stands at"):
        load_rulebook([own(tmp_path, ROW + ROW)])


def test_places_within_each_other_are_refused(tmp_path: Path) -> None:
    rows, head = "a\tA\tb\tx\ty\nb\tB\ta\tx\ty\n", "id\tname\twithin\tauthority\tsource\n"
    with pytest.raises(InputError, match="lies within itself"):
        load_rulebook([own(tmp_path, rows, "jurisdictions", head)])
