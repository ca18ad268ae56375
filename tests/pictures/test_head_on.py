"""The fly from in front, measured: what stands upright or apart is seen in its full length."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from tests.pictures.flies import STYLES, styled
from tests.pictures.measuring import SVG, extent, fibre_mm, fibres_mm, marked, path
from tests.real import rulebook
from variants.design import Request, build_problem
from variants.geometry import FlyGeometry, fly_geometry, load_layout
from variants.model import Box
from variants.pictures import draw_fly

LAYOUT = load_layout()
SIZES = [10, 12, 14, 16, 18, 20]
ROUNDED = 0.012


def seen(style: str, size: int, view: str = "front") -> tuple[FlyGeometry, ET.Element]:
    design = build_problem(Request(styled(style, size), Box(())), rulebook())
    picture = draw_fly(design, LAYOUT, view=view)  # type: ignore[arg-type]
    return fly_geometry(design, LAYOUT), ET.fromstring(picture.svg)


@pytest.mark.parametrize("style", ["dry upright", "down-wing", "palmer", "parachute"])
@pytest.mark.parametrize("size", SIZES)
def test_an_upright_hackle_is_seen_all_round_in_its_length(style: str, size: int) -> None:
    geometry, root = seen(style, size)
    hackle = geometry.parts["hackle"]
    measured = [fibre_mm(path(one)) for one in marked(root, "hackle", "length")]
    assert measured == pytest.approx([hackle.length_mm] * len(measured), rel=0.01, abs=ROUNDED)
    assert len(measured) == 2
    assert hackle.length_mm is not None
    longest = max(fibres_mm(root, "hackle"))
    assert longest <= hackle.length_mm * 1.01 + ROUNDED


@pytest.mark.parametrize("style", ["dry upright", "spinner", "parachute"])
@pytest.mark.parametrize("size", SIZES)
def test_wings_apart_and_posts_are_seen_in_their_length(style: str, size: int) -> None:
    geometry, root = seen(style, size)
    part = "post" if style == "parachute" else "wing"
    shape = geometry.parts[part]
    measured = [fibre_mm(path(one)) for one in marked(root, part, "length")]
    assert measured == pytest.approx([shape.length_mm] * len(measured), rel=0.01, abs=ROUNDED)
    assert len(measured) == (1 if part == "post" else 2)


@pytest.mark.parametrize("size", SIZES)
def test_spent_wings_lie_level_and_divided_ones_stand_apart_as_print_has_it(size: int) -> None:
    _, root = seen("spinner", size)
    for wing in marked(root, "wing", "length"):
        wide, high = extent(path(wing))
        assert high < 0.1 * wide
    _, root = seen("dry upright", size)
    left, right = (path(one)[0] for one in marked(root, "wing", "length"))
    apart = abs((left.end - left.start).real) + abs((right.end - right.start).real)
    assert apart > 0.5 * left.length()


@pytest.mark.parametrize("style", STYLES)
def test_the_hook_hangs_a_gape_deep(style: str) -> None:
    geometry, root = seen(style, 12)
    (rod,) = marked(root, "hook", "gape")
    assert path(rod).length() == pytest.approx(geometry.hook.gape_mm, abs=ROUNDED)
    (eye,) = marked(root, "hook", "eye")
    assert extent(path(eye))[0] + geometry.hook.wire_mm == pytest.approx(
        geometry.hook.eye_mm, abs=2 * ROUNDED
    )


@pytest.mark.parametrize("style", STYLES)
def test_both_views_stand_side_by_side_on_one_page(style: str) -> None:
    _, root = seen(style, 14, "both")
    hooks = [one for one in root.iter(f"{SVG}g") if one.get("data-part") == "hook"]
    assert [one.get("data-view") for one in hooks] == [None, "front", "front"]
    left, _top, width, _height = map(float, root.get("viewBox", "").split())
    moved = [one for one in root.iter(f"{SVG}g") if one.get("transform")]
    (front,) = moved
    shift = float(front.get("transform", "").removeprefix("translate(").split()[0])
    assert left < shift < left + width
    assert "from the side and from in front" in (root.findtext(f"{SVG}desc") or "")
