"""The picture measured: what is drawn is as long as what was computed, in every style and size."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from math import dist
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drawing.flies import STYLES, styled
from tests.real import ROOT, example, example_box, rulebook
from variants.drawing import Picture, as_png, draw_fly, plate
from variants.geometry import FlyGeometry, fly_geometry, load_layout
from variants.model import Box, Dressing
from variants.problem import DesignProblem, Request, build_problem
from variants.search import search

LAYOUT = load_layout()
SVG = "{http://www.w3.org/2000/svg}"


def designed(dressing: Dressing, box: Box | None = None) -> DesignProblem:
    return build_problem(Request(dressing, box or Box(())), rulebook())


def drawn(design: DesignProblem) -> tuple[FlyGeometry, ET.Element]:
    return fly_geometry(design, LAYOUT), ET.fromstring(draw_fly(design, LAYOUT).svg)


def ends(drawn: ET.Element) -> list[tuple[float, float]]:
    """Places along what is drawn: a path, or all visible paths of a group."""
    paths = [one for one in drawn.iter(f"{SVG}path") if one.get("stroke") != "none"]
    return [place for path in paths for place in _places(path)]


def _places(path: ET.Element) -> list[tuple[float, float]]:
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", path.get("d", ""))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def measured(root: ET.Element, part: str, measure: str) -> list[ET.Element]:
    return [
        one
        for group in root.iter(f"{SVG}g")
        if group.get("data-part") == part
        for one in group.iter()
        if one.get("data-measure") == measure
    ]


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("size", [10, 12, 14, 16, 18, 20])
def test_what_is_drawn_is_as_long_as_what_was_computed(style: str, size: int) -> None:
    geometry, root = drawn(designed(styled(style, size)))
    along = [x for x, _ in ends(measured(root, "hook", "shank")[0])]
    assert max(along) - min(along) == pytest.approx(
        geometry.hook.shank_mm + geometry.hook.gape_mm / 2, rel=0.12
    )
    checked = 0
    for part, shape in geometry.parts.items():
        for line in measured(root, part, "length"):
            start, *_, end = ends(line)
            assert dist(start, end) == pytest.approx(shape.length_mm, rel=0.01), part
            checked += 1
        for outline in measured(root, part, "body"):
            places = ends(outline)
            along = [x for x, _ in places]
            up = [y for _, y in places]
            assert max(along) - min(along) == pytest.approx(
                shape.front_mm - shape.rear_mm, abs=0.02
            )
            assert shape.cone is not None
            widest = max(shape.cone.rear_mm, shape.cone.front_mm)
            assert max(up) - min(up) == pytest.approx(widest, abs=0.02)
            checked += 1
        if part == "rib":
            assert len(measured(root, part, "turn")) == shape.counts["turns"]
            checked += 1
        for outline in measured(root, "head", "head") if part == "head" else []:
            along = [x for x, _ in ends(outline)]
            assert max(along) - min(along) == pytest.approx(
                shape.front_mm - shape.rear_mm, abs=0.02
            )
            checked += 1
    assert checked >= 3


@pytest.mark.parametrize("style", STYLES)
def test_every_part_of_the_dressing_is_on_the_paper(style: str) -> None:
    dressing = styled(style, 12)
    _, root = drawn(designed(dressing))
    shown = {group.get("data-part") for group in root.iter(f"{SVG}g")}
    hidden = {"weight", "underbody", "body-coating"}
    assert {part.id for part in dressing.parts} - hidden <= shown


@given(st.text(max_size=60))
@settings(max_examples=40, deadline=None)
def test_no_name_can_spoil_the_drawing(name: str) -> None:
    design = designed(replace(styled("nymph", 12), name=name))
    root = ET.fromstring(draw_fly(design, LAYOUT).svg)
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {
        "svg", "title", "desc", "rect", "g", "path", "circle", "line", "text",
    }  # fmt: skip


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", '"quoted" & more', "עברית", "🎣\x1b["]
)
def test_strange_names_are_written_as_text(name: str) -> None:
    svg = draw_fly(designed(replace(styled("nymph", 12), name=name)), LAYOUT).svg
    assert "<script" not in svg
    assert "\x1b" not in svg
    title = ET.fromstring(svg).findtext(f"{SVG}title")
    assert title is not None
    assert title.replace("\ufffd", "") == name.replace("\x1b", "")


def test_the_same_fly_is_the_same_file_whatever_seeds_python_uses() -> None:
    words = [sys.executable, "-m", "variants", "draw", "examples/dressings/bellringer.toml"]
    found = {
        subprocess.run(
            words,
            cwd=ROOT,
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1


def test_forty_flies_fit_on_a_page_of_two_megabytes() -> None:
    design = designed(example("packhorse-badger"), example_box())
    pictures = [draw_fly(design, LAYOUT, one) for one in search(design, 40).variants]
    sheet = plate(pictures, [[""]] * len(pictures), columns=5)
    assert len(pictures) == 40
    assert len(sheet.svg.encode()) <= 2_000_000
    assert len(ET.fromstring(sheet.svg).findall(f"{SVG}svg")) == 40


def test_a_plate_wants_notes_for_each_picture() -> None:
    picture = draw_fly(designed(styled("nymph", 12)), LAYOUT)
    with pytest.raises(ValueError, match="notes for each"):
        plate([picture], [])


def test_a_picture_shows_itself_in_a_notebook_and_becomes_a_png() -> None:
    picture = draw_fly(designed(styled("palmer", 12)), LAYOUT)
    assert isinstance(picture, Picture)
    assert picture._repr_svg_() == picture.svg
    pytest.importorskip("typst")
    assert as_png(picture, 8).startswith(b"\x89PNG\r\n")
