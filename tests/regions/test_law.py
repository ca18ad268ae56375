"""Law by place: what is not written is unknown, and what is written is told with its statute."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from tests.real import fly, rulebook
from variants.model import Dressing
from variants.reading import InputError
from variants.regions import LawOfTheLand, cautions, load_law
from variants.rulebook import STATUSES

HEAD = "id\tjurisdiction\tmaterials\tstatus\tstatute\tsection\tknown\tsays\tsource\n"
ROW = "own-1\tuk\tgrouse-hackle\tforbidden\tclub rules\trule 4\t2026\tno grouse\thouse rule\n"


@cache
def law() -> LawOfTheLand:
    return load_law(rulebook().trade)


def tied(parts: dict[str, str], style: str = "dry upright") -> Dressing:
    return fly({"hook": "dry fly hook", **parts}, style)


def own(tmp_path: Path, row: str) -> Path:
    (tmp_path / "law").mkdir()
    (tmp_path / "law" / "statutes.tsv").write_text(HEAD + row)
    return tmp_path


def test_what_no_row_speaks_of_is_unknown_and_never_allowed() -> None:
    told = cautions(tied({"hackle": "guinea fowl", "body": "silk floss, yellow"}), law(), "uk")
    assert told.law == ()
    assert told.unknown == ("dry fly hook", "guinea fowl", "silk floss")


def test_a_barred_feather_comes_with_statute_section_and_advice() -> None:
    told = cautions(tied({"hackle": "waterhen covert"}, "soft hackle"), law(), "uk")
    (one,) = told.law
    assert (one.statute.status, one.statute.statute) == (
        "forbidden",
        "Wildlife and Countryside Act 1981",
    )
    assert one.statute.section == "section 6 and Schedule 3"
    assert "no legal advice: check" in told.advice


def test_the_law_of_the_wider_place_holds_too_and_the_strictest_is_told_first() -> None:
    told = cautions(tied({"weight": "lead wire", "body": "peacock herl"}, "nymph"), law(), "dk")
    assert [(one.place.id, one.statute.status) for one in told.law] == [
        ("dk", "forbidden"),
        ("borders", "licensed"),
        ("eu", "unknown"),
    ]


def test_one_fly_stands_differently_in_two_places() -> None:
    starling = tied({"hackle": "starling body feather"}, "soft hackle")
    assert [one.statute.status for one in cautions(starling, law(), "us").law] == ["allowed"]
    assert [one.statute.status for one in cautions(starling, law(), "uk").law] == ["unknown"]


def test_hazards_are_those_that_the_dressing_calls_for() -> None:
    lead = tied({"hook": "nymph hook", "weight": "lead wire", "body": "hare's mask fur"}, "nymph")
    assert {one.id for one in cautions(lead, law()).hazards} == {
        "hook-point", "lead", "fur-dust", "moth", "skins",
    }  # fmt: skip
    plain = cautions(tied({"body": "wire copper"}, "nymph"), law())
    assert [one.id for one in plain.hazards] == ["hook-point"]


def test_no_place_named_tells_no_law() -> None:
    told = cautions(tied({"hackle": "waterhen covert"}, "soft hackle"), law())
    assert (told.law, told.unknown, told.advice) == ((), (), "")


def test_a_place_that_nobody_knows_is_refused() -> None:
    with pytest.raises(KeyError):
        cautions(tied({"hackle": "grouse"}), law(), "atlantis")


@pytest.mark.parametrize("id_", sorted(law().statutes))
def test_every_row_states_what_it_must(id_: str) -> None:
    row = law().statutes[id_]
    assert row.status in STATUSES
    assert all((row.materials, row.statute, row.section, row.known, row.source))


def test_a_row_of_ones_own_is_added(tmp_path: Path) -> None:
    mine = load_law(rulebook().trade, [own(tmp_path, ROW)])
    told = cautions(tied({"hackle": "grouse"}), mine, "uk")
    assert [one.statute.id for one in told.law] == ["own-1", "uk-09"]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("grouse-hackle", "grouze-hackle", "grouze-hackle"),
        ("\tuk\t", "\tuq\t", "'uq' is not a jurisdiction"),
        ("forbidden", "barred", "barred"),
    ],
)
def test_a_wrong_row_is_located(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        load_law(rulebook().trade, [own(tmp_path, ROW.replace(old, new))])
    (fault,) = refused.value.faults
    assert said in fault.problem
    assert fault.origin.line == 2
    assert fault.origin.file.endswith("statutes.tsv")


def test_an_id_that_stands_twice_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'own-1' stands in line 2 too"):
        load_law(rulebook().trade, [own(tmp_path, ROW + ROW)])


def test_a_row_about_nothing_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="names nothing"):
        load_law(rulebook().trade, [own(tmp_path, ROW.replace("grouse-hackle", ""))])


def test_places_within_each_other_are_refused(tmp_path: Path) -> None:
    (tmp_path / "law").mkdir()
    (tmp_path / "law" / "jurisdictions.tsv").write_text(
        "id\tname\twithin\tauthority\tsource\na\tA\tb\tx\ty\nb\tB\ta\tx\ty\n"
    )
    with pytest.raises(InputError, match="lies within itself"):
        load_law(rulebook().trade, [tmp_path])
