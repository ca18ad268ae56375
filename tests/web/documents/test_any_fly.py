"""Whatever fly a box gives, its sheet and its derivation are good pages."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.real import propose, rulebook
from tests.strategies.flies import dressings, held, rows
from tests.web.documents.flies import LAYOUT
from tests.web.documents.html import ids, read, references, text
from variants.explain.derivation import BASE, trace_descent
from variants.model import Dressing
from variants.pictures import draw_fly
from variants.pictures.charts import box_svg, departure_svg, fly_pictures
from variants.regions import load_law
from variants.text import xml_safe
from variants.views.sheet import bench_sheet, load_steps
from variants.web.documents import Plate, derivation_html, sheet_html

LAW, TABLE = load_law(rulebook().trade), load_steps(rulebook().trade)


@given(dressings(), rows(), st.text(max_size=40), st.sampled_from([None, "slow", "fast"]))
@settings(max_examples=examples(12))
def test_any_fly_under_any_name(
    base: Dressing, told: list[str], name: str, water: str | None
) -> None:
    named, stock = replace(base, name=name, note=name), held(told)
    design, found = propose(named, stock, best=4, water=water)
    for variant in [None, *found[:1]]:
        sheet = bench_sheet(design, LAYOUT, TABLE, LAW, variant, students=3)
        root = read(sheet_html(sheet, [Plate(draw_fly(design, LAYOUT, variant), "The fly.")]))
        heading = root.find(".//h1")
        assert heading is not None
        assert told_alike(text(heading), name)
        assert references(root) <= set(ids(root))
        assert len(sheet.lines) == len(design.base)
    read(box_svg(stock, rulebook().trade, name).join(["<!DOCTYPE html><title>x</title>", ""]))
    if found:
        assert departure_svg(design, found)
        whole = trace_descent(design, found)
        pictures = fly_pictures(design, LAYOUT, whole)
        root = read(derivation_html(design, whole.graph, BASE, found, pictures))
        assert references(root) <= set(ids(root))
        assert len(root.findall(".//section")) == whole.graph.number_of_nodes()


def told_alike(shown: str, name: str) -> bool:
    """Whether a page shows a name, as far as a page can: line ends and gaps are one to it."""
    return " ".join(shown.split()) == " ".join(xml_safe(name).split())
