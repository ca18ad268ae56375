"""Rows of the materials tables against measurements, a fibre table, a dictionary and old books."""

from __future__ import annotations

import pytest

from tests.real import rulebook
from variants.explain.instead import find_stand_ins
from variants.explain.stand_ins import StandInQuery
from variants.geometry import load_layout
from variants.model import Material

TRADE = rulebook().trade
ALASKA = pytest.mark.source("alaska-fur", "the page of each animal")


def row(name: str) -> Material:
    return TRADE.materials[name]


@ALASKA
@pytest.mark.parametrize(
    ("name", "thinnest", "thickest"),
    [
        ("moose-body", 0.29, 0.55),
        ("deer-body", 0.20, 0.38),
        ("elk-body", 0.10, 0.40),
        ("beaver-guard", 0.10, 0.19),
        ("mink-tail", 0.08, 0.11),
    ],
)
def test_hair_is_as_thick_as_measured(name: str, thinnest: float, thickest: float) -> None:
    assert thinnest <= (row(name).thickness_mm or 0.0) <= thickest


@ALASKA
@pytest.mark.parametrize(
    ("name", "longest_mm"),
    [("moose-body", 110), ("moose-mane", 147), ("elk-mane", 110), ("beaver-guard", 40)],
)
def test_hair_is_as_long_as_measured(name: str, longest_mm: int) -> None:
    fibre = row(name).fibre_mm
    assert fibre is not None
    assert fibre[0] < longest_mm <= fibre[1]


@pytest.mark.source("morton-hearle-2008", "table 5.1: viscose 1.49-1.52, nylon 1.14, acrylic 1.19")
@pytest.mark.parametrize(
    ("name", "water"),
    [
        ("synthetic-tail-fibre", "neutral"),
        ("printed-tail-fibre", "neutral"),
        ("nylon-monofilament", "neutral"),
        ("craft-fur", "neutral"),
        ("poly-yarn", "floats"),  # polypropylene, 0.91
    ],
)
def test_drawn_fibre_floats_only_where_it_is_lighter_than_water(name: str, water: str) -> None:
    assert row(name).water == water


@pytest.mark.source("morton-hearle-2008", "table 5.1: viscose 1.49-1.52")
def test_viscose_raffia_has_the_density_of_viscose() -> None:
    assert 1.49 <= (row("synthetic-raffia").density_g_cm3 or 0.0) <= 1.52


@pytest.mark.source("perrault", "letters C and K: capra is goat, kip the tail of a young calf")
def test_capra_is_goat_and_kip_is_calf_tail() -> None:
    assert TRADE.material_names["capra"].id == "goat-hair"
    assert TRADE.material_names["kip"].id == "calf-tail"


@pytest.mark.source("perrault", "letter P: grey mottled turkey for peacock wing")
def test_mottled_turkey_stands_in_for_peacock_wing() -> None:
    assert row("peacock-wing").substitutes[0].material == "turkey-mottled"


@pytest.mark.source(
    "skues-silk-fur-feather", "golden plover, young starling, honey dun for dotterel"
)
def test_the_three_stand_ins_for_dotterel() -> None:
    named = {one.material for one in row("dotterel").substitutes}
    assert named == {"plover-hackle", "starling-covert", "honey-dun-hackle"}


@pytest.mark.source("reddy-yang-2007", "abstract: density of a barb, 0.80 g/cm3")
def test_a_feather_weighs_less_than_solid_horn() -> None:
    assert 0.8 <= load_layout().winding["feather"].value < 1.0


@pytest.mark.source("hair-and-fur-notes", "hollow hair floats; solid guard hair only sheds water")
def test_hair_of_one_build_behaves_alike_in_water() -> None:
    cellular = ("deer-body", "elk-body", "elk-mane", "elk-hock", "moose-body", "caribou-hair")
    solid = ("calf-tail", "bucktail", "squirrel-tail", "woodchuck-tail", "black-bear-hair")
    assert {row(name).water for name in cellular} == {"floats"}
    assert {row(name).water for name in solid} == {"neutral"}


@pytest.mark.source("fur-substitutes-thread", "bucktail for calf tail")
@pytest.mark.parametrize("part", ["wing", "tail"])
def test_bucktail_serves_for_calf_tail_on_a_floating_fly(part: str) -> None:
    found = find_stand_ins(rulebook().likeness, StandInQuery(row("calf-tail"), part, "dry-upright"))
    first = [answer.first.material.id for answer in found.answers[:4]]
    likewise = [one.material.id for answer in found.answers[:4] for one in answer.likewise]
    assert "bucktail" in [*first, *likewise]


@pytest.mark.source("gregg-1940", "page 8: mature neck hackle, stiff and web-free")
def test_cock_neck_serves_for_spade_as_a_dry_tail() -> None:
    found = find_stand_ins(
        rulebook().likeness, StandInQuery(row("rooster-spade"), "tail", "dry-upright")
    )
    assert "rooster-neck-dry" not in {one.material.id for one in found.unfit}
