"""Legal definitions of a fly, place by place, and what hooks may be fished there."""

from __future__ import annotations

from functools import cache

import pytest

from tests.real import rulebook
from variants.model import Value
from variants.reading import TomlDocument
from variants.regions import LawOfTheLand, load_law, places_of

WATER = """\
name = "Trial"
jurisdiction = "{place}"
[[water]]
name = "Long pool"
speed = "medium"
clarity = "clear"
surface = "smooth"
fly_only = true
[[natural]]
name = "olive"
order = "mayflies"
stage = "adult"
months = "May"
shortest_mm = 5
longest_mm = 7
"""
SINGLE = {"material": "hook-wet-standard", "points": 1, "shanks": 1, "barbed": False,
          "gape_mm": 5.0, "size": 12}  # fmt: skip
DOUBLE, TREBLE = {**SINGLE, "points": 2}, {**SINGLE, "points": 3}
BARBED = {**SINGLE, "barbed": True}
BEAD = {"material": "brass-bead", "weighs": frozenset({"bead"})}
WOUND = {"material": "lead-free-wire", "weighs": frozenset({"wound"})}
MOULDED = {"material": "tungsten-putty", "weighs": frozenset({"moulded"})}


@cache
def law() -> LawOfTheLand:
    return load_law(rulebook().trade)


def is_lawful(place: str, **parts: dict[str, Value]) -> bool:
    (where,) = places_of(TomlDocument(WATER.format(place=place), "t.toml"), rulebook().trade, law())
    fly = {"hook": SINGLE, **parts}
    return all(rule.judge(fly).kept for rule in where.rules)


@pytest.mark.source("fly-definitions", "the row of each place")
@pytest.mark.parametrize(
    ("place", "parts", "passes"),
    [
        ("ca-nl", {"hook": SINGLE}, True),
        ("ca-nl", {"hook": BARBED}, False),
        ("ca-nl", {"hook": DOUBLE}, False),
        ("ca-nl", {"bead": BEAD}, False),
        ("ca-maritimes", {"hook": DOUBLE}, True),
        ("ca-maritimes", {"hook": TREBLE}, False),
        ("ca-maritimes", {"weight": WOUND}, False),
        ("ca-qc", {"hook": DOUBLE}, True),
        ("ca-qc", {"hook": TREBLE}, False),
        ("ca-parks", {"hook": DOUBLE}, True),
        ("ca-parks", {"hook": {**DOUBLE, "shanks": 2}}, False),
        ("ca-parks", {"hook": TREBLE}, False),
        ("uk-wales", {"bead": BEAD}, False),
        ("uk-wales", {"weight": WOUND}, False),
        ("uk-wales", {"hook": {**TREBLE, "gape_mm": 7.0}}, True),
        ("uk-wales", {"hook": {**TREBLE, "gape_mm": 7.5}}, False),
        ("no", {"hook": {**SINGLE, "gape_mm": 15.0}}, True),
        ("no", {"hook": {**SINGLE, "gape_mm": 15.5}}, False),
        ("no", {"hook": {**DOUBLE, "gape_mm": 13.5}}, False),
        ("no-audna", {"hook": {**SINGLE, "size": 5}}, False),
        ("no-audna", {"hook": {**SINGLE, "size": 6}}, True),
        ("us-wa", {"hook": BARBED}, False),
        ("us-wa", {"hook": {**SINGLE, "gape_mm": 12.7}}, True),
        ("us-wa", {"hook": {**SINGLE, "gape_mm": 12.8}}, False),
        ("us-wa", {"bead": BEAD}, True),
        ("us-me", {"hook": DOUBLE}, False),
        ("us-ny", {"hook": DOUBLE}, True),
        ("us-ny", {"hook": TREBLE}, False),
        ("us-nc", {"hook": DOUBLE}, False),
        ("us-pa", {"hook": DOUBLE}, False),
        ("us-pa", {"body": MOULDED}, False),
        ("us-or", {"bead": BEAD}, True),
        ("us-or", {"body": MOULDED}, False),
        ("nz-taupo", {"bead": BEAD}, True),
        ("si-savinja", {"hook": DOUBLE}, False),
        ("ca-ab", {"hook": BARBED}, True),
    ],
)
def test_a_fly_passes_as_the_law_of_the_place_defines_it(
    place: str, parts: dict[str, dict[str, Value]], passes: bool
) -> None:
    assert is_lawful(place, **parts) is passes
