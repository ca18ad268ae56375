"""Flies whose names try what a page must bear, and the examples, as pages have them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from tests.real import example, example_box, propose, rulebook
from variants.explain.derivation import BASE, trace_descent
from variants.geometry import load_layout
from variants.model import Box
from variants.pictures import draw_fly
from variants.pictures.charts import fly_pictures
from variants.regions import load_law
from variants.views.sheet import BenchSheet, bench_sheet, load_steps
from variants.web.documents import Plate, derivation_html, sheet_html

LAYOUT = load_layout()
#: Markup, quotes, right to left, emoji, a joined emoji, and what looks like a template.
NAMES = (
    "<script>alert(1)</script>",
    "\"quoted\" & 'single' </title></style><b>",
    "זבוב הנהר",
    "ذبابة النهر",
    "Mayfly 🪰 and 👩‍🔬",
    "{{ 7 * 7 }} #eval(panic()) \\u0041",
    "]]> --> <!-- <svg onload=alert(1)>",
)


@cache
def sheet_of(
    name: str | None = None, which: str = "ferrymans-dun", students: int = 6
) -> tuple[BenchSheet, tuple[Plate, ...]]:
    """The sheet of an example, under another name where one is given."""
    base, stock = example(which), example_box()
    if name is not None:
        items = tuple(replace(item, place=name, note=name) for item in stock.items)
        base, stock = replace(base, name=name, note=name, source=name), Box(items)
    design, found = propose(base, stock, best=1)
    trade = rulebook().trade
    told = bench_sheet(
        design, LAYOUT, load_steps(trade), load_law(trade), found[0], students=students
    )
    plates = (
        Plate(draw_fly(design, LAYOUT, found[0]), "The fly to tie."),
        Plate(draw_fly(design, LAYOUT), "As written."),
    )
    return told, plates


@cache
def sheet_page(name: str | None = None) -> str:
    return sheet_html(*sheet_of(name))


@cache
def derivation_page(which: str = "ferrymans-dun", best: int = 8, name: str | None = None) -> str:
    base = example(which)
    if name is not None:
        base = replace(base, name=name)
    design, found = propose(base, example_box(), best=best, different=True)
    whole = trace_descent(design, found)
    pictures = fly_pictures(design, LAYOUT, whole)
    return derivation_html(design, whole.graph, BASE, found, pictures)
