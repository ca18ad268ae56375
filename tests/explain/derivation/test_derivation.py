"""The derivation: reached from the base, one substitution an edge, hard rules kept all along."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.breadth import examples
from tests.real import box, example, example_box, fly, propose
from tests.strategies.flies import dressings, held, rows
from variants import api
from variants.design import RuleConstraint
from variants.explain.derivation import BASE, EXPORTS, derive
from variants.explain.derivation.steps import Pathfinder
from variants.model import Dressing
from variants.rulebook import load_rulebook
from variants.text import xml_safe

NAMES = ["ferrymans-dun", "long-acre-olive", "tenter-mill-quill", "merrel-snipe"]


@pytest.fixture(params=NAMES)
def derived(request: pytest.FixtureRequest):
    design, found = propose(example(request.param), example_box(), best=12)
    return design, found, derive(design, found)


def test_every_variant_is_reached_from_the_base(derived) -> None:
    _design, found, graph = derived
    variants = {node for node, rank in graph.nodes(data="rank") if rank is not None}
    assert len(variants) == len(found)
    assert variants <= {BASE} | nx.descendants(graph, BASE)
    assert nx.is_directed_acyclic_graph(graph)


def test_an_edge_changes_exactly_the_parts_it_names(derived) -> None:
    _design, _found, graph = derived
    for before, after, values in graph.edges(data=True):
        here, there = graph.nodes[before]["parts"], graph.nodes[after]["parts"]
        differing = [part for part in here if here[part] != there[part]]
        assert differing == values["parts"]
        assert values["linked"] == (len(differing) > 1)
        assert bool(values["rules"]) == values["linked"]


def test_steps_add_up_to_the_departure(derived) -> None:
    _design, found, graph = derived
    for variant in found:
        node = next(name for name, rank in graph.nodes(data="rank") if rank == variant.rank)
        path = nx.shortest_path(graph, BASE, node)
        steps = sum(graph.edges[edge]["departure"] for edge in nx.utils.pairwise(path))
        assert graph.nodes[BASE]["departure"] + steps == variant.departure


def test_every_dressing_on_the_way_keeps_the_hard_rules(derived) -> None:
    design, found, _graph = derived
    finder = Pathfinder(design)
    for variant in found:
        for step in finder.steps(variant.chosen):
            for constraint in design.constraints:
                if isinstance(constraint, RuleConstraint):
                    assert constraint.allows([step.after[part] for part in constraint.parts])


@given(dressings(), rows(), st.sampled_from([None, "slow", "fast"]))
@settings(max_examples=examples(40))
def test_any_derivation_is_made_of_valid_single_steps_or_says_what_ties_them(
    base: Dressing, told: list[str], water: str | None
) -> None:
    design, found = propose(base, held(told), best=8, water=water)
    finder = Pathfinder(design)
    rules = [one for one in design.constraints if isinstance(one, RuleConstraint)]
    for variant in found:
        made = dict(design.base)
        for step in finder.steps(variant.chosen):
            assert {part: made[part].identity for part in made} == {
                part: step.before[part].identity for part in step.before
            }
            made = dict(step.after)
            assert all(one.allows([made[part] for part in one.parts]) for one in rules)
            for part in step.parts if len(step.parts) > 1 else ():
                alone = {**step.before, part: step.after[part]}
                broken = [
                    one.rule for one in rules if not one.allows([alone[part] for part in one.parts])
                ]
                assert broken
                assert all(rule in step.tied_by for rule in broken)
        assert made == dict(variant.chosen)
    graph = derive(design, found)
    assert set(graph) == {BASE} | nx.descendants(graph, BASE)


def test_variants_share_their_first_steps() -> None:
    design, found = propose(example("ferrymans-dun"), example_box(), best=12)
    graph = derive(design, found)
    assert graph.number_of_edges() < sum(len(one.changed) for one in found)


def test_exports_read_back(derived) -> None:
    _design, _found, graph = derived
    back = nx.node_link_graph(json.loads(EXPORTS[".json"](graph)), edges="edges")
    assert set(back.nodes) == set(graph.nodes)
    assert set(back.edges) == set(graph.edges)
    graphml = nx.read_graphml(BytesIO(EXPORTS[".graphml"](graph).encode()))
    assert set(graphml.edges) == set(graph.edges)


def named(label: str) -> nx.DiGraph:
    graph: nx.DiGraph = nx.DiGraph()
    values = {"departure": 0, "in_box": True, "rank": None, "parts": {"body": label}}
    graph.add_node("base", label=label, **values)
    graph.add_node("v1", label="plain", **values)
    graph.add_edge("base", "v1", label=label, linked=False)
    return graph


def test_names_with_markup_stay_names() -> None:
    graph = named('<script>"&\n`#lt;')
    mermaid, dot = EXPORTS[".mmd"](graph), EXPORTS[".dot"](graph)
    words = "#lt;script#gt;#quot;#amp; #96;#35;lt;"
    assert f'  base["{words} (0.00)"]' in mermaid
    assert f'  base -->|"{words}"| v1' in mermaid
    assert r'  "base" [label="<script>\"& `#lt; (0.00)"];' in dot


DOT_LINE = re.compile(r'  "(?:[^"\\]|\\.)*"(?: -> "v1")? \[label="((?:[^"\\]|\\.)*)"\];')


@given(st.text(max_size=20))
def test_any_name_is_written_so_that_it_reads_back(label: str) -> None:
    graph = named(label)
    back = nx.read_graphml(BytesIO(EXPORTS[".graphml"](graph).encode()))
    kept = xml_safe(label)
    same = str.maketrans({"\r": "\n", "\ufffe": "\ufffd", "\uffff": "\ufffd"})
    assert back.nodes["base"]["label"].translate(same) == kept.translate(same)
    again = nx.node_link_graph(json.loads(EXPORTS[".json"](graph)), edges="edges")
    assert again.edges["base", "v1"]["label"] == label
    *_head, base, _v1, edge, _end = EXPORTS[".dot"](graph).split("\n")[3:-1]
    for line in (base, edge):
        assert DOT_LINE.fullmatch(line)
    assert len(EXPORTS[".mmd"](graph).splitlines()) == 4


TIED = """\
[[rule]]
id = "house-tail-and-hackle"
says = "Here tail and hackle are always of one colour."
source = "house rule"
kind = "agree"
first = "tail"
second = "hackle"
attribute = "colour"
"""


def test_parts_that_a_rule_ties_change_in_one_linked_step(tmp_path: Path) -> None:
    (tmp_path / "trade").mkdir()
    (tmp_path / "trade" / "house.toml").write_text(TIED)
    parts = {
        "hook": "dry fly hook",
        "thread": "polyester tying thread, black",
        "tail": "rooster-spade, ginger",
        "body": "muskrat fur",
        "hackle": "rooster-neck-dry, ginger",
    }
    rows = [
        "hooks,dry fly hook,,14,,20 hooks",
        "thread,polyester tying thread,black,,,30 m",
        "tail,rooster-spade,black,,,30 feathers",
        "mole,mole fur,,,,1 g",
        "cape,rooster-neck-dry,black,12-16,,40 feathers",
    ]
    design, found = api.propose(fly(parts), box(rows), load_rulebook([tmp_path]), best=1)
    assert found[0].changed == ("tail", "body", "hackle")
    graph = derive(design, found)
    linked = [values for *_edge, values in graph.edges(data=True) if values["linked"]]
    assert len(linked) == 1
    assert linked[0]["parts"] == ["tail", "hackle"]
    assert linked[0]["rules"] == ["house-tail-and-hackle"]
    assert linked[0]["reason"] == "Here tail and hackle are always of one colour."
    assert sum(not values["linked"] for *_edge, values in graph.edges(data=True)) == 1
