"""Colours told without colour: hatching that covers what it should, marks along barbs, the key."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees, hypot
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from tests.pictures.flies import STYLES, styled
from tests.pictures.measuring import SVG, fibre_mm, marked, path
from tests.real import fly, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.geometry import fly_geometry, load_layout
from variants.model import Box, Dressing
from variants.pictures import draw_fly
from variants.pictures.hatching import across
from variants.pictures.inks import Inks, inks_of

LAYOUT = load_layout()
coordinates = st.floats(-20, 20).map(lambda one: round(one, 3))


def designed(dressing: Dressing) -> DesignProblem:
    return build_problem(Request(dressing, Box(())), rulebook())


@given(
    st.lists(st.tuples(coordinates, coordinates), min_size=4, max_size=12, unique=True),
    st.floats(-90, 90),
)
def test_hatching_covers_an_area_evenly_and_nothing_else(
    places: list[tuple[float, float]], slant: float
) -> None:
    wide = {round(x) for x, _ in places}, {round(y) for _, y in places}
    if min(len(one) for one in wide) < 3:
        return
    try:
        hull = ConvexHull(places)
    except Exception:
        return  # All in one line: no area at all.
    corners = [places[number] for number in hull.vertices]
    gap = 0.05
    lines = across(corners, slant, gap)
    covered = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines) * gap
    # Lines at even steps measure an area as well as their gap is small against its edge.
    assert covered == pytest.approx(hull.volume, abs=hull.area * gap)
    for a, b in lines:
        if hypot(b[0] - a[0], b[1] - a[1]) > 0.5:
            # Told on the page, where the eye is to the left: forward is leftward.
            lean = degrees(atan2(-(b[1] - a[1]), -(b[0] - a[0])))
            off = (lean - slant) % 180
            assert min(off, 180 - off) == pytest.approx(0, abs=0.01)


def inks(colour: str, material: str = "rooster-neck-dry") -> Inks:
    design = designed(fly({"hook": "dry fly hook", "hackle": f"{material}, {colour}"}))
    return inks_of(design.base["hackle"], LAYOUT.looks)[0]


def shade_at(found: Inks, share: float) -> str:
    ink = found.ground
    for mark in found.marks(0.5):
        if mark.start <= share < mark.end:
            ink = mark.ink
    return ink


def hexes(colour: str) -> list[str]:
    return [one.lower() for one in rulebook().trade.colours[colour].hexes]


# What these words mean stands in rules/markings.tsv and rules/colours.tsv with their sources.
@pytest.mark.parametrize("colour", ["badger", "furnace", "silver-badger"])
def test_a_list_is_dark_along_the_stem_and_pale_at_the_edge(colour: str) -> None:
    found, (pale, dark) = inks(colour), hexes(colour)
    assert shade_at(found, 0.1) == dark
    assert shade_at(found, 0.6) == shade_at(found, 0.99) == pale


def test_coch_y_bonddu_has_black_tips_where_furnace_has_none() -> None:
    red, dark, tip = hexes("coch-y-bonddu")
    found = inks("coch-y-bonddu")
    assert [shade_at(found, share) for share in (0.1, 0.6, 0.95)] == [dark, red, tip]


def test_grizzle_is_barred_all_along_and_a_plain_colour_is_not() -> None:
    found = inks("grizzly")
    shades = [shade_at(found, step / 200) for step in range(200)]
    changes = sum(a != b for a, b in pairwise(shades))
    assert changes >= 10
    assert set(shades) == set(hexes("grizzly"))
    assert not inks("ginger").marks(0.5)


@pytest.mark.parametrize("style", STYLES)
def test_the_key_names_every_part_that_shows_a_colour(style: str) -> None:
    dressing = styled(style, 14)
    design = designed(dressing)
    root = ET.fromstring(draw_fly(design, LAYOUT, patterns=True).svg)
    words = [one.text or "" for one in root.iter(f"{SVG}text")]
    for part in dressing.parts:
        if part.id == "hook":
            continue
        name = rulebook().trade.parts[part.id].name
        assert f"{name}: {design.base[part.id].words}" in words


# The old engravers' ways for red, green, black and yellow (Petra Sancta 1638, from memory); those
# for brown, orange and grey are the table's own.
@pytest.mark.parametrize(
    ("colour", "hatch"),
    [("claret", "upright"), ("olive", "falling"), ("black", "grid"), ("brown", "lattice"),
     ("primrose", "dots"), ("orange", "crosses"), ("medium dun", "dashes")],
)  # fmt: skip
def test_a_body_is_hatched_by_its_family_of_colour(colour: str, hatch: str) -> None:
    design = designed(
        fly({"hook": "wet fly hook", "body": f"wool-yarn, {colour}", "thread": "thread silk, white",
             "hackle": "hen-neck, white"}, "soft hackle")
    )  # fmt: skip
    root = ET.fromstring(draw_fly(design, LAYOUT, patterns=True).svg)
    body = next(one for one in root.iter(f"{SVG}g") if one.get("data-part") == "body")
    assert [one.get("data-hatch") for one in body if one.get("data-hatch")] == [hatch]
    plain = ET.fromstring(draw_fly(design, LAYOUT).svg)
    assert not [one for one in plain.iter() if one.get("data-hatch")]


def test_patterns_change_no_measure() -> None:
    design = designed(styled("dry upright", 14))
    root = ET.fromstring(draw_fly(design, LAYOUT, patterns=True).svg)
    for part, shape in fly_geometry(design, LAYOUT).parts.items():
        for element in marked(root, part, "length"):
            assert fibre_mm(path(element)) == pytest.approx(shape.length_mm, rel=0.01, abs=0.012)


def test_a_patch_of_the_key_is_filled_whole_under_its_barbs() -> None:
    design = designed(fly({"hook": "dry fly hook", "hackle": "rooster-neck-dry, furnace"}))
    root = ET.fromstring(draw_fly(design, LAYOUT, patterns=True).svg)
    key = next(one for one in root.iter(f"{SVG}g") if one.get("data-part") == "key")
    patches = [one for one in key if one.get("data-patch")]
    assert patches
    for patch in patches:
        # Another outline in the same path would cut a hole where it runs the other way round.
        assert patch.get("d", "").count("M") == 1
