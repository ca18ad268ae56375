"""Charts show the very numbers that the rules test and the search proves."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from tests.pictures.flies import STYLES
from tests.real import example, example_box, propose, rulebook
from tests.web.documents.flies import NAMES
from variants.geometry.targets import targets
from variants.model import Box, Colour, plain
from variants.pictures.charts import box_svg, departure_svg, proportions_svg
from variants.pictures.charts.box import FAMILIES, NONE, family
from variants.pictures.charts.departure import breakdown

_SVG = "{http://www.w3.org/2000/svg}"


def drawn(svg: str) -> ET.Element:
    root = ET.fromstring(svg)
    assert root.find(f"{_SVG}title") is not None
    assert root.find(f"{_SVG}desc") is not None
    return root


def words(element: ET.Element) -> list[str]:
    return ["".join(one.itertext()) for one in element.iter(f"{_SVG}text")]


@pytest.mark.parametrize("style", STYLES)
def test_the_line_of_proportions_stands_at_the_computed_millimetres(style: str) -> None:
    trade = rulebook().trade
    kind = trade.style_names[plain(style)]
    found = targets(rulebook(), kind.id, range(10, 21, 2), trade.material_names["dry fly hook"])
    root = drawn(proportions_svg(found, trade, style))
    panels = [one for one in root.iter(f"{_SVG}g") if one.get("data-part")]
    rules = list(dict.fromkeys((one.part, one.rule) for one in found))
    assert [one.get("data-part") for one in panels] == [part for part, _rule in rules]
    for panel, (_part, rule) in zip(panels, rules, strict=True):
        own = [one for one in found if one.rule == rule]
        line = next(one for one in panel.iter(f"{_SVG}path") if one.get("data-measure") == "right")
        heights = [float(y) for y in re.findall(r"[ML][\d.]+ ([\d.]+)", line.get("d", ""))]
        pixel = float(line.get("data-mm-per-pixel", "0"))
        assert len(heights) == len(own)
        for height, other, one, last in zip(heights, heights[1:], own, own[1:], strict=False):
            # Places are written to a tenth of a pixel.
            assert (other - height) * pixel == pytest.approx(
                one.right_mm - last.right_mm, abs=0.2 * pixel
            )
        assert [f"{one.right_mm:.1f}" for one in own] == [
            word for word in words(panel) if re.fullmatch(r"\d+\.\d", word) and word != "0.0"
        ][-len(own) :]


def test_no_length_is_no_chart() -> None:
    with pytest.raises(ValueError, match="no rule"):
        proportions_svg([], rulebook().trade, "nothing")


@pytest.mark.parametrize("name", ["tenter-mill-quill", "packhorse-badger", "merrel-snipe"])
@pytest.mark.parametrize("water", [None, "fast"])
def test_parts_add_up_to_the_departure(name: str, water: str | None) -> None:
    design, found = propose(example(name), example_box(), best=8, water=water)
    for variant in found:
        shares = breakdown(design, variant)
        assert sum(sum(one.values()) for one in shares.values()) == variant.departure
        assert all(cost >= 0 for one in shares.values() for cost in one.values())
    root = drawn(departure_svg(design, found))
    rows = [one for one in root.iter(f"{_SVG}g") if one.get("data-variant")]
    assert len(rows) == len(found)
    for row, variant in zip(rows, found, strict=True):
        cells = {one.get("data-part") for one in row.iter(f"{_SVG}g") if one.get("data-part")}
        shares = breakdown(design, variant)
        assert cells == {part for part, one in shares.items() if sum(one.values())}


def test_the_longest_bar_is_the_dearest_part() -> None:
    design, found = propose(example("tenter-mill-quill"), example_box(), best=6)
    root = drawn(departure_svg(design, found))
    told = {}
    for row in root.iter(f"{_SVG}g"):
        for cell in row.iter(f"{_SVG}g") if row.get("data-variant") else ():
            if cell.get("data-part"):
                rank, part = int(float(row.get("data-variant", "0"))), cell.get("data-part", "")
                wide = sum(float(one.get("width", "0")) for one in cell.iter(f"{_SVG}rect"))
                told[rank, part] = wide
    shares = {one.rank: breakdown(design, one) for one in found}
    costs = {(rank, part): sum(shares[rank][part].values()) for rank, part in told}
    scale = max(told.values()) / max(costs.values())
    for key, wide in told.items():
        assert wide == pytest.approx(costs[key] * scale, abs=0.5)


def test_the_box_shows_every_thing_once() -> None:
    stock = example_box()
    root = drawn(box_svg(stock, rulebook().trade, "the box"))
    shown = [one.get("data-item") for one in root.iter(f"{_SVG}g") if one.get("data-item")]
    assert sorted(shown) == sorted(item.id for item in stock.items)
    for one in root.iter(f"{_SVG}g"):
        if one.get("data-item"):
            assert one[0].tag == f"{_SVG}title"
            assert (one.get("data-item") or "") in (one[0].text or "")


def test_swatches_of_a_cell_do_not_touch() -> None:
    root = drawn(box_svg(example_box(), rulebook().trade, "the box"))
    frames = [
        (float(one.get("x", "0")), float(one.get("y", "0")))
        for one in root.iter(f"{_SVG}rect")
        if one.get("fill") == "none"
    ]
    assert len(frames) == len(example_box().items)
    assert len(set(frames)) == len(frames)
    for x, y in frames:
        near = [(a, b) for a, b in frames if abs(a - x) < 16 and abs(b - y) < 16]
        assert near == [(x, y)]


def test_what_is_used_up_stands_empty() -> None:
    stock = example_box()
    root = drawn(box_svg(stock, rulebook().trade, "the box"))
    gone = {item.id for item in stock.items if item.is_gone}
    assert gone
    for one in root.iter(f"{_SVG}g"):
        if one.get("data-item"):
            filled = [box for box in one.iter(f"{_SVG}rect") if box.get("fill") != "none"]
            assert bool(filled) != (one.get("data-item") in gone)


def test_a_measured_shade_finds_its_family() -> None:
    item = example_box().items[0]
    colours = rulebook().trade.colours
    for shade, wanted in [
        ("#FFFFFF", "white"), ("#000000", "black"), ("#C01818", "red"), ("#6B3F1E", "brown"),
        ("#2E8B40", "green"), ("#E8C820", "yellow"), ("#6B6B2A", "olive"),
    ]:  # fmt: skip
        measured = replace(item, colour=Colour(shade, shade, hexes=(shade,)))
        assert family(measured, colours) == wanted
    assert family(replace(item, colour=None), colours) == NONE
    families = {family(one, colours) for one in example_box().items}
    assert families <= {*FAMILIES, NONE}


@pytest.mark.parametrize("name", [*NAMES, "bell\x07 and null\x00"])
def test_any_name_is_words(name: str) -> None:
    stock = Box(tuple(replace(item, id=name, place=name) for item in example_box().items[:9]))
    root = drawn(box_svg(stock, rulebook().trade, name))
    clean = name.replace("\x07", "\N{REPLACEMENT CHARACTER}").replace("\x00", "\ufffd")
    assert clean in words(root)
    assert not list(root.iter(f"{_SVG}script"))
