"""Names beside a drawing: their lines cross nothing, and no name lies on another."""

from __future__ import annotations

from itertools import combinations, pairwise, product
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.pictures.flies import STYLES, styled
from tests.pictures.measuring import SVG
from tests.real import example, example_box, rulebook
from variants.design import Request, build_problem
from variants.geometry import load_layout
from variants.model import Box
from variants.pictures import draw_fly, plate
from variants.pictures.callouts import Callout, place_callouts

LAYOUT = load_layout()
Point = tuple[float, float]


def turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def cross(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    """Whether two stretches properly cross (the usual test by orientation)."""
    (a, b), (c, d) = one, two
    return turn(a, b, c) * turn(a, b, d) < -1e-12 and turn(c, d, a) * turn(c, d, b) < -1e-12


def corners(one: Callout) -> tuple[float, float, float, float]:
    return one.left_mm, one.top_mm, one.left_mm + one.width_mm, one.top_mm + one.height_mm


def sides(one: Callout) -> list[tuple[Point, Point]]:
    left, top, right, bottom = corners(one)
    ring = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]
    return list(pairwise(ring))


def check(callouts: list[Callout]) -> None:
    for one, two in combinations(callouts, 2):
        for pair in product(pairwise(one.leader), pairwise(two.leader)):
            assert not cross(*pair)
        a, b = corners(one), corners(two)
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    for one, two in product(callouts, callouts):
        for pair in product(pairwise(one.leader), sides(two)):
            assert not cross(*pair)


places = st.tuples(st.floats(0, 30), st.floats(0, 10))
wanted = st.lists(st.tuples(places, st.text(max_size=90)), max_size=12)


@given(wanted, st.booleans())
def test_no_line_crosses_another_and_no_name_lies_on_another(
    wanted: list[tuple[Point, str]], above: bool
) -> None:
    callouts = place_callouts(wanted, 0.0 if above else 10.0, above=above)
    assert len(callouts) == len(wanted)
    check(callouts)


@pytest.mark.parametrize("style", STYLES)
def test_all_parts_of_a_fly_can_be_named_at_once(style: str) -> None:
    design = build_problem(Request(styled(style, 12), Box(())), rulebook())
    picture = draw_fly(design, LAYOUT, captioned=False)
    parts = {part.id for part in styled(style, 12).parts}
    assert parts <= set(picture.anchors)
    for anchor in picture.anchors.values():
        assert 0 <= anchor.place[0] <= picture.width_mm
        assert 0 <= anchor.place[1] <= picture.height_mm
    named = {part: f"{part}: something that it is made of" for part in parts}
    svg = ET.fromstring(plate([picture], [["as written"]], named=[named]).svg)
    words = [one.text for one in svg.iter(f"{SVG}text")]
    assert sum("something" in (word or "") for word in words) == len(parts)
    for above in (True, False):
        check(
            place_callouts(
                [
                    (one.place, "x" * 20)
                    for one in picture.anchors.values()
                    if one.is_above == above
                ],
                0.0 if above else picture.height_mm,
                above=above,
            )
        )


@pytest.mark.parametrize(
    "words", ["<script>alert(1)</script>", '"quoted" & more', "עברית", "🎣 fly", "x" * 200, ""]
)
def test_strange_words_are_written_as_text(words: str) -> None:
    design = build_problem(Request(styled("nymph", 12), Box(())), rulebook())
    picture = draw_fly(design, LAYOUT, captioned=False)
    sheet = plate([picture], [[words, words]], named=[{"body": words}], caption=words)
    root = ET.fromstring(sheet.svg)
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {
        "svg", "title", "desc", "rect", "g", "path", "circle", "line", "text",
    }  # fmt: skip
    written = [one.text or "" for one in root.iter(f"{SVG}text")]
    assert written.count(words) >= 3
    assert root.findtext(f"{SVG}title") == (words or picture.title)


def test_what_lies_hidden_is_told_below_the_fly() -> None:
    design = build_problem(Request(styled("nymph", 12), Box(())), rulebook())
    picture = draw_fly(design, LAYOUT, captioned=False)
    sheet = plate([picture], [["one"]], named=[{"weight": "weight: lead-free wire"}])
    words = [one.text for one in ET.fromstring(sheet.svg).iter(f"{SVG}text")]
    assert "weight: lead-free wire" in words


def test_a_sheet_is_as_wide_as_what_is_written_on_it() -> None:
    design = build_problem(Request(example("packhorse-badger"), example_box()), rulebook())
    picture = draw_fly(design, LAYOUT, captioned=False)
    narrow = plate([picture], [["as written"]])
    wide = plate([picture], [["as written"]], named=[{"tail": "tail: " + "speckled " * 3}])
    assert wide.width_mm > narrow.width_mm
    assert wide.height_mm > narrow.height_mm


def test_flies_of_a_row_stand_on_one_line_at_one_scale() -> None:
    pictures = [
        draw_fly(build_problem(Request(styled(style, 12), Box(())), rulebook()), LAYOUT,
                 captioned=False)
        for style in ("dry upright", "nymph")
    ]  # fmt: skip
    sheet = ET.fromstring(plate(pictures, [["one"], ["two"]]).svg)
    inner = sheet.findall(f"{SVG}svg")
    shanks = [
        float(one.get("y", "nan")) + picture.shank_mm
        for one, picture in zip(inner, pictures, strict=True)
    ]
    assert shanks[0] == pytest.approx(shanks[1], abs=0.011)
    for one, picture in zip(inner, pictures, strict=True):
        *_, width, height = map(float, one.get("viewBox", "").split())
        assert float(one.get("width", "nan")) == pytest.approx(width, abs=0.011)
        assert float(one.get("height", "nan")) == pytest.approx(height, abs=0.011)
        assert picture.width_mm == pytest.approx(width, abs=0.011)
