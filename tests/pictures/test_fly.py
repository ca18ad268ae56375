"""The picture measured: what is drawn is as long as what was computed, in every style and size."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.pictures.flies import STYLES, beaded, hooked, rib_of, styled
from tests.pictures.measuring import SVG, extent, fibre_mm, fibres_mm, marked, path
from tests.real import ROOT, example, example_box, fly, rulebook
from variants.design import DesignProblem, Request, build_problem
from variants.design.search import search
from variants.geometry import FlyGeometry, fly_geometry, load_layout
from variants.model import Box, Dressing
from variants.pictures import Picture, as_png, draw_fly, plate

LAYOUT = load_layout()


def designed(dressing: Dressing, box: Box | None = None) -> DesignProblem:
    return build_problem(Request(dressing, box or Box(())), rulebook())


def drawn(design: DesignProblem) -> tuple[FlyGeometry, ET.Element]:
    return fly_geometry(design, LAYOUT), ET.fromstring(draw_fly(design, LAYOUT).svg)


SIZES = [10, 12, 14, 16, 18, 20]
#: The hundredths of a millimetre that a drawing is rounded to, on both ends of a line.
ROUNDED = 0.012


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("size", SIZES)
def test_fibres_are_as_long_as_the_rules_say(style: str, size: int) -> None:
    geometry, root = drawn(designed(styled(style, size)))
    checked = set()
    for part, shape in geometry.parts.items():
        for element in marked(root, part, "length"):
            assert fibre_mm(path(element)) == pytest.approx(
                shape.length_mm, rel=0.01, abs=ROUNDED
            ), part
            checked.add(part)
        if part in checked:
            assert shape.length_mm is not None
            longest = max(fibres_mm(root, part), default=0.0)
            assert longest <= shape.length_mm * 1.01 + ROUNDED, part
    expected = {part for part, shape in geometry.parts.items() if shape.length_mm is not None}
    # Spent wings point at who looks, and a case is laid over the thorax: neither shows its length.
    assert expected - {"wing-case"} - ({"wing"} if style == "spinner" else set()) <= checked


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("size", SIZES)
def test_bodies_heads_and_ribs_are_as_computed(style: str, size: int) -> None:
    geometry, root = drawn(designed(styled(style, size)))
    checked = set()
    for part, shape in geometry.parts.items():
        for element in marked(root, part, "body") + marked(root, part, "head"):
            long, high = extent(path(element))
            assert shape.cone is not None
            assert long == pytest.approx(shape.front_mm - shape.rear_mm, abs=2 * ROUNDED), part
            widest = max(shape.cone.rear_mm, shape.cone.front_mm)
            assert high == pytest.approx(widest, rel=0.01, abs=2 * ROUNDED), part
            checked.add(part)
    assert {"body", "head"} <= checked
    assert ("thorax" in checked) == ("thorax" in geometry.parts)


@pytest.mark.parametrize("style", [one for one in STYLES if rib_of(one)])
@pytest.mark.parametrize("size", SIZES)
def test_a_rib_makes_its_turns_at_even_steps(style: str, size: int) -> None:
    geometry, root = drawn(designed(styled(style, size)))
    rib, turns = geometry.parts["rib"], marked(root, "rib", "turn")
    assert len(turns) == rib.counts["turns"]
    middles = sorted(sum(path(one).bbox()[:2]) / 2 for one in turns)
    steps = [two - one for one, two in pairwise(middles)]
    step = (rib.front_mm - rib.rear_mm) / len(turns)
    assert steps == pytest.approx([step] * len(steps), abs=2 * ROUNDED)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    "model", ["dry-standard", "wet-standard", "nymph", "streamer", "barbless", "dry-up-eye"]
)
def test_a_hook_has_its_shank_gape_and_eye(model: str, size: int) -> None:
    geometry, root = drawn(designed(hooked(model, size)))
    hook = geometry.hook
    (wire,) = marked(root, "hook", "wire")
    shank, bend, *_ = path(wire)
    assert shank.length() == pytest.approx(hook.shank_mm, abs=ROUNDED)
    assert abs((bend.end - bend.start).imag) == pytest.approx(hook.gape_mm, abs=ROUNDED)
    (eye,) = marked(root, "hook", "eye")
    ring = path(eye)
    across = max(abs(ring.point(step / 40) - ring.point(0)) for step in range(41))
    assert across + hook.wire_mm == pytest.approx(hook.eye_mm, abs=2 * ROUNDED)
    assert len(marked(root, "hook", "barb")) == (1 if hook.is_barbed else 0)
    middle = (ring.bbox()[2] + ring.bbox()[3]) / 2
    # Downward is more on the paper.
    assert (middle > 0.05, middle < -0.05) == (hook.eye == "down", hook.eye == "up")


@pytest.mark.parametrize("size", SIZES)
def test_a_curved_shank_is_as_long_along_its_curve(size: int) -> None:
    geometry, root = drawn(designed(hooked("emerger", size)))
    hook = geometry.hook
    (wire,) = marked(root, "hook", "wire")
    *shank, _bend, _spear = path(wire)
    assert sum(one.length() for one in shank) == pytest.approx(hook.shank_mm, rel=0.01)
    (body,) = marked(root, "body", "body")
    shape = geometry.parts["body"]
    outline = path(body).length(error=1e-4) / 2
    length = shape.front_mm - shape.rear_mm
    assert length < outline < length + 2 * hook.gape_mm


@pytest.mark.parametrize("size", SIZES)
def test_a_bead_sits_at_the_eye_and_leaves_room_behind_it(size: int) -> None:
    geometry, root = drawn(designed(beaded(size)))
    bead = geometry.parts["bead"]
    (ball,) = marked(root, "bead", "diameter")
    assert bead.cone is not None
    assert 2 * float(ball.get("r", 0)) == pytest.approx(bead.cone.front_mm, abs=ROUNDED)
    assert float(ball.get("cx", 9)) == pytest.approx(bead.cone.front_mm / 2, abs=ROUNDED)
    for part, shape in geometry.parts.items():
        if part != "bead":
            assert shape.front_mm <= bead.rear_mm + 1e-9, part


@pytest.mark.parametrize("style", STYLES)
def test_every_part_of_the_dressing_is_on_the_paper(style: str) -> None:
    dressing = styled(style, 12)
    _, root = drawn(designed(dressing))
    shown = {group.get("data-part") for group in root.iter(f"{SVG}g")}
    hidden = {"weight", "underbody", "body-coating"}
    assert {part.id for part in dressing.parts} - hidden <= shown


def test_stuff_of_every_class_can_be_drawn_in_every_part_that_it_serves() -> None:
    trade, seen = rulebook().trade, set()
    for material in trade.materials.values():
        for part in material.functions & set(trade.parts):
            if trade.parts[part].form in ("hook", "thread") or (material.kind, part) in seen:
                continue
            seen.add((material.kind, part))
            styles = ("streamer", "nymph", "dry-upright", "parachute", "emerger")
            has = [one for one in styles if part in {p.part for p in trade.styles[one].parts}]
            if not has:
                continue  # no style has such a part of its own yet
            style = has[0]
            parts = {
                "hook": "hook-streamer",
                "thread": "thread silk, red",
                "body": "wool-yarn, red",
            }
            dressing = fly({**parts, part: material.id}, trade.styles[style].name, "12")
            root = ET.fromstring(
                draw_fly(designed(dressing), LAYOUT, view="both", patterns=True).svg
            )
            drawn_for = {one.get("data-part") for one in root.iter(f"{SVG}g")}
            is_hidden = trade.parts[part].form in ("underlay", "coating")
            assert is_hidden or part in drawn_for, (material.id, part)
    assert len(seen) > 80


@given(st.text(max_size=60))
@settings(max_examples=examples(40), deadline=None)
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
