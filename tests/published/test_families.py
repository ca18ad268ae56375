"""Families of published dressings: the base, with a sibling's parts in the box, gives it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.real import box, fly, propose, rulebook
from variants.model import Variant, Way, plain

HOOKS = {
    "dry-upright": ("dry fly hook", "14"),
    "winged-wet": ("wet fly hook", "12"),
    "soft-hackle": ("wet fly hook", "14"),
    "nymph": ("hook-nymph", "12"),
    "streamer": ("hook-streamer", "6"),
}
#: How far down a sibling that is not the closest is looked for.
SEARCHED = 400
FAMILIES = tomllib.loads(Path(__file__).with_name("families.toml").read_text())["family"]


def cases() -> Iterator[Any]:
    for family in FAMILIES:
        mark = pytest.mark.source(family["source"], family["page"])
        for name, differs in family["siblings"].items():
            yield pytest.param(family, differs, id=f"{family['name']}: {name}", marks=mark)


def sibling_of(base: Mapping[str, str], differs: Mapping[str, Any]) -> dict[str, str]:
    """Return the sibling's parts, those that the base lacks left aside."""
    return {
        part: differs.get(part, words)
        for part, words in base.items()
        if differs.get(part, words) != "none"
    }


@pytest.mark.parametrize(("family", "differs"), list(cases()))
def test_the_first_variant_is_the_sibling(
    family: Mapping[str, Any], differs: Mapping[str, Any]
) -> None:
    hook, size = HOOKS[family["style"]]
    common = {"hook": hook, "thread": "thread-aramid"}
    sibling = sibling_of(family["base"], differs)
    added = differs.get("adds", {})
    assert not set(added) & set(family["base"]), "what the base has can't be added"
    rows = [f"hooks,{hook},,{size},,20 hooks", "thread,thread-aramid,,,,50 m"]
    for part, words in {**sibling, **added}.items():
        material, _, colour = (word.strip() for word in words.partition(","))
        # One piece of each: what the sibling has for one part can't make two.
        rows.append(f"for the {part},{material},{colour},,,1 piece")
    base = fly({**common, **family["base"]}, family["style"], size)
    expected = {part: key_of(words) for part, words in sibling.items()}
    _design, found = propose(base, box(rows), best=SEARCHED if "why" in differs else 1)
    assert found, "nothing can be tied"
    if "why" in differs:
        assert expected in [made_of(one) for one in found]
    else:
        assert made_of(found[0]) == expected


def made_of(variant: Variant) -> dict[str, tuple[str, str]]:
    return {
        part: candidate.ingredients[0].key
        for part, candidate in variant.chosen.items()
        if candidate.way is not Way.LEFT_OUT and part not in ("hook", "thread")
    }


def key_of(words: str) -> tuple[str, str]:
    trade = rulebook().trade
    material, _, colour = (word.strip() for word in words.partition(","))
    stuff = trade.material_names[plain(material)]
    shade = trade.colour_names[plain(colour)].id if colour else stuff.natural_colour or ""
    return stuff.id, shade


@pytest.mark.source("gregg-1940", "and the other sources of the families")
def test_enough_families_are_here() -> None:
    assert len(FAMILIES) >= 29
    siblings = [one for family in FAMILIES for one in family["siblings"].values()]
    assert len(siblings) >= 60
    assert sum("why" in one for one in siblings) <= len(siblings) // 5
