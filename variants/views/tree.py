"""The derivation as a tree on a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from variants.explain.wording import departure_words
from variants.text import printable
from variants.views.columns import wrap

if TYPE_CHECKING:
    import networkx as nx


def tree_lines(graph: nx.DiGraph[str], root: str) -> list[str]:
    """Return the derivation from its root, each dressing once; a second way to it is named."""
    lines = wrap(_node_words(graph, root), subsequent_indent="    ")
    seen = {root}

    def descend(node: str, lead: str) -> None:
        children = list(graph.successors(node))
        for place, child in enumerate(children):
            is_last = place == len(children) - 1
            edge = graph.edges[node, child]
            joint, onward = ("└─ ", "   ") if is_last else ("├─ ", "│  ")
            again = " (see above)" if child in seen else ""
            words = f"{edge['label']}  ⇒ {_node_words(graph, child)}{again}"
            if edge["linked"]:
                words += f"  [tied together: {edge['reason']}]"
            lines.extend(
                wrap(
                    printable(words),
                    initial_indent=lead + joint,
                    subsequent_indent=lead + onward + "    ",
                )
            )
            if child not in seen:
                seen.add(child)
                descend(child, lead + onward)

    descend(root, "")
    return lines


def _node_words(graph: nx.DiGraph[str], node: str) -> str:
    values = graph.nodes[node]
    box = "" if values["in_box"] else ", not from this box"
    return f"{printable(values['label'])} ({departure_words(values['departure'])}{box})"
