"""The layout of a derivation: any graph, every label in a place of its own."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree as ET

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.real import example, example_box, propose
from variants.explain.derivation import BASE, trace_descent
from variants.geometry import load_layout
from variants.pictures import draw_fly
from variants.pictures.charts import derivation_svg, fly_pictures
from variants.pictures.charts.derivation import (
    HEAD,
    LABEL_LINE,
    LABEL_SIZE,
    PICTURE_HIGH,
    WIDTH,
    lay_out,
)
from variants.pictures.charts.letters import width_of
from variants.pictures.charts.shelf import Shelf

LAYOUT = load_layout()


@st.composite
def graphs(draw: st.DrawFn) -> nx.DiGraph:
    """Any rooted graph without cycles, of up to 40 dressings, steps back among them."""
    count = draw(st.integers(1, 40))
    graph: nx.DiGraph = nx.DiGraph()
    for number in range(count):
        graph.add_node(
            f"v{number}",
            label=draw(st.text(max_size=30)),
            rank=number,
            departure=draw(st.integers(0, 3000)) if number else 0,
            in_box=draw(st.booleans()),
            parts={},
        )
    for number in range(1, count):
        for before in draw(st.sets(st.integers(0, number - 1), min_size=1, max_size=3)):
            graph.add_edge(
                f"v{before}", f"v{number}", label=draw(st.text(max_size=90)), linked=False
            )
    return graph


@given(graphs())
def test_every_dressing_has_a_row_of_its_own_and_every_step_its_words(graph: nx.DiGraph) -> None:
    placed = lay_out(graph, "v0")
    assert set(placed.nodes) == set(graph)
    assert {(one.before, one.after) for one in placed.edges} == set(graph.edges)
    rows = sorted(one.y for one in placed.nodes.values())
    assert rows[0] >= HEAD
    assert all(lower - upper >= PICTURE_HIGH for upper, lower in pairwise(rows))
    bands = sorted(
        (one.text_y - LABEL_LINE, one.text_y + (len(one.lines) - 1) * LABEL_LINE)
        for one in placed.edges
    )
    assert all(end <= begin + 1e-6 for (_, end), (begin, _) in pairwise(bands))
    for one in placed.edges:
        assert one.text_y + (len(one.lines) - 1) * LABEL_LINE <= one.end[1]
        assert all(one.text_x + width_of(line, LABEL_SIZE) <= WIDTH for line in one.lines)
    for name, one in placed.nodes.items():
        assert 0 < one.x < WIDTH
        if one.parent is not None:
            assert graph.has_edge(one.parent, name)
            assert placed.nodes[one.parent].y < one.y


@given(graphs())
def test_departure_is_distance(graph: nx.DiGraph) -> None:
    placed = lay_out(graph, "v0")
    start = placed.nodes["v0"].x
    told = [(one.x - start, graph.nodes[name]["departure"]) for name, one in placed.nodes.items()]
    farthest = max(departure for _, departure in told)
    widest = max(x for x, _ in told)
    for x, departure in told:
        assert x * max(farthest, 1) == pytest.approx(departure * widest)
    for departure, x in placed.ticks:
        assert (x - start) * max(farthest, 1) == pytest.approx(departure * widest, abs=1e-6)


def test_the_picture_holds_every_fly_once() -> None:
    design, found = propose(example("ferrymans-dun"), example_box(), best=12, different=True)
    whole = trace_descent(design, found)
    svg = derivation_svg(whole.graph, BASE, fly_pictures(design, LAYOUT, whole), "a <plain> & name")
    root = ET.fromstring(svg)
    ns = "{http://www.w3.org/2000/svg}"
    symbols = [one.get("id") for one in root.iter(f"{ns}symbol")]
    assert len(symbols) == len(set(symbols)) == whole.graph.number_of_nodes()
    nodes = [one for one in root.iter(f"{ns}g") if one.get("data-node")]
    assert len(nodes) == len(symbols)
    for node in nodes:
        told = "".join(node.itertext())
        assert "departs" in told
        assert node.find(f"{ns}use") is not None
    title = root.find(f"{ns}title")
    assert title is not None
    assert title.text == "a <plain> & name"


def test_what_flies_share_stands_once() -> None:
    design, found = propose(example("packhorse-badger"), example_box(), best=20, different=True)
    alone = sum(len(draw_fly(design, LAYOUT, one, captioned=False).svg) for one in found)
    shelf = Shelf()
    for one in found:
        shelf.put(f"v{one.rank}", draw_fly(design, LAYOUT, one, captioned=False))
    assert len(shelf.svg()) < alone / 3
    root = ET.fromstring(shelf.svg())
    known = {one.get("id") for one in root.iter() if one.get("id")}
    used = {one.get("href", "")[1:] for one in root.iter("use")}
    assert used
    assert used <= known
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))


def test_ids_of_a_drawing_are_made_its_own() -> None:
    from variants.pictures import Picture

    drawn = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><defs><linearGradient id="a">'
        '<stop offset="0" stop-color="{ink}"/></linearGradient></defs>'
        '<g data-part="body"><path d="M0 0L1 1" fill="url(#a)"/></g></svg>'
    )
    shelf = Shelf()
    for name, ink in (("one", "#111111"), ("two", "#222222"), ("three", "#111111")):
        shelf.put(name, Picture(drawn.format(ink=ink), 4, 4, name))
    root = ET.fromstring(shelf.svg())
    gradients = [one.get("id") for one in root.iter("linearGradient")]
    assert len(gradients) == len(set(gradients)) == 2
    fills = {one.get("fill") for one in root.iter("path")}
    assert fills == {f"url(#{one})" for one in gradients}
