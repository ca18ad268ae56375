"""The derivation in open formats: node-link JSON, GraphML, DOT and Mermaid."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

import networkx as nx

from variants.text import xml_safe

VERSION = 1
#: Mermaid's own codes for what it would read as markup, its sign of such a code first.
_MERMAID_CODES = str.maketrans(
    {"#": "#35;", "&": "#amp;", '"': "#quot;", "<": "#lt;", ">": "#gt;", "`": "#96;"}
)


def to_json(graph: nx.DiGraph[str]) -> str:
    """Return the graph as networkx's node-link JSON."""
    graph.graph["version"] = VERSION
    return json.dumps(nx.node_link_data(graph, edges="edges"), indent=2, ensure_ascii=False) + "\n"


def to_graphml(graph: nx.DiGraph[str]) -> str:
    """Return the graph as GraphML; lists and tables become text, which is all GraphML holds."""
    flat: nx.DiGraph[str] = nx.DiGraph()
    for node, values in graph.nodes(data=True):
        flat.add_node(node, **_flatten(values))
    for before, after, values in graph.edges(data=True):
        flat.add_edge(before, after, **_flatten(values))
    return "\n".join(nx.generate_graphml(flat)) + "\n"


def _flatten(values: Mapping[str, object]) -> dict[str, object]:
    return {
        name: value if isinstance(value, int | bool) else xml_safe(_as_text(value))
        for name, value in values.items()
        if value is not None
    }


def _as_text(value: object) -> str:
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def _join_lines(text: str) -> str:
    return " ".join(text.splitlines())


def _quote(text: str) -> str:
    return '"' + _join_lines(text).replace("\\", "\\\\").replace('"', '\\"') + '"'


def to_dot(graph: nx.DiGraph[str]) -> str:
    """Return the graph in the DOT language; dressings that the box can't tie are dashed."""
    lines = ["digraph derivation {", "  rankdir=LR;", "  node [shape=box];"]
    for node, values in graph.nodes(data=True):
        label = f"{values['label']} ({values['departure'] / 1000:.2f})"
        style = "" if values["in_box"] else ", style=dashed"
        lines.append(f"  {_quote(node)} [label={_quote(label)}{style}];")
    for before, after, values in graph.edges(data=True):
        label = _quote(values["label"])
        lines.append(f"  {_quote(before)} -> {_quote(after)} [label={label}];")
    return "\n".join([*lines, "}"]) + "\n"


def to_mermaid(graph: nx.DiGraph[str]) -> str:
    """Return the graph as a Mermaid flowchart; dressings that the box can't tie are rounded."""

    def text(words: str) -> str:
        return '"' + _join_lines(words).translate(_MERMAID_CODES) + '"'

    lines = ["flowchart LR"]
    for node, values in graph.nodes(data=True):
        label = text(f"{values['label']} ({values['departure'] / 1000:.2f})")
        # Mermaid reads a bare word "end" as a keyword; our node names are never that.
        lines.append(f"  {node}[{label}]" if values["in_box"] else f"  {node}({label})")
    for before, after, values in graph.edges(data=True):
        lines.append(f"  {before} -->|{text(values['label'])}| {after}")
    return "\n".join(lines) + "\n"


#: Export by the suffix of a file's name.
EXPORTS: Mapping[str, Callable[[nx.DiGraph[str]], str]] = {
    ".json": to_json,
    ".graphml": to_graphml,
    ".dot": to_dot,
    ".mmd": to_mermaid,
}
