"""The derivation as one HTML page: a picture to walk through, each dressing told."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from variants.design import DesignProblem, adapted_counts
from variants.explain import explain
from variants.explain.wording import departure_words, number_words, part_name, source_items
from variants.model import Variant
from variants.pictures import Picture
from variants.pictures.charts import SHELF_PREFIX, PlacedNode, derivation_svg, edge_words, lay_out
from variants.text import xml_safe
from variants.views.proposal import heading
from variants.web.documents.templates import packaged, page, stylesheet

if TYPE_CHECKING:
    import networkx as nx


def derivation_html(
    design: DesignProblem,
    graph: nx.DiGraph[str],
    root: str,
    variants: Sequence[Variant],
    pictures: Mapping[str, Picture],
) -> str:
    """Return a derivation as one page that needs nothing else.

    Parameters
    ----------
    design : DesignProblem
    graph : networkx.DiGraph
        The derivation of these variants.
    root : str
    variants : sequence of Variant
    pictures : mapping of node to Picture
        Without captions.
    """
    from markupsafe import Markup

    title = design.request.base.name
    by_rank = {variant.rank: variant for variant in variants}
    nodes = []
    arrangement = lay_out(graph, root).nodes
    for placed in arrangement.values():
        variant = by_rank.get(graph.nodes[placed.name]["rank"])
        nodes.append(
            {
                "name": placed.name,
                "label": placed.label,
                "below": placed.below,
                "picture": _picture(placed.name, pictures.get(placed.name)),
                "steps": _steps(graph, arrangement, placed),
                "lines": _lines(design, graph, root, placed.name, variant),
                **_why(design, variant),
            }
        )
    script = f"\n{packaged('derivation.js')}\n"
    return xml_safe(
        page(
            "derivation.html.j2",
            title=title,
            heading=heading(design),
            drawing=Markup(derivation_svg(graph, root, pictures, title, links=True)),
            nodes=nodes,
            style=Markup(stylesheet()),
            own_style=Markup(packaged("derivation.css")),
            script=Markup(script[1:-1]),
            script_hash=Markup(base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()),
        )
    )


def _picture(node: str, picture: Picture | None) -> dict[str, str] | None:
    if picture is None:
        return None
    return {
        "id": f"{SHELF_PREFIX}-{node}",
        "label": picture.title,
        "width": f"{picture.width_mm:g}",
        "height": f"{picture.height_mm:g}",
    }


def _steps(
    graph: nx.DiGraph[str], arrangement: Mapping[str, PlacedNode], at: PlacedNode
) -> list[dict[str, str]]:
    """Return the steps from the base, by the nearest parents."""
    steps: list[dict[str, str]] = []
    while at.parent is not None:
        further = graph.edges[at.parent, at.name]["departure"]
        sign = "−" if further < 0 else "+"
        departs = f"{sign}{departure_words(abs(further))}"
        steps.append({"words": edge_words(graph, at.parent, at.name), "departs": departs})
        at = arrangement[at.parent]
    return steps[::-1]


def _lines(
    design: DesignProblem, graph: nx.DiGraph[str], root: str, node: str, variant: Variant | None
) -> list[dict[str, Any]]:
    written = graph.nodes[root]["parts"]
    return [
        {
            "part": part_name(design.rulebook.trade.parts, part),
            "stuff": _with_counts(words, variant, part),
            "is_changed": words != written[part],
            "from_box": source_items(variant.chosen[part]) if variant is not None else "",
        }
        for part, words in graph.nodes[node]["parts"].items()
    ]


def _with_counts(words: str, variant: Variant | None, part: str) -> str:
    counts = adapted_counts(variant.chosen[part]) if variant is not None else ""
    return f"{words}; {counts}" if counts else words


def _why(design: DesignProblem, variant: Variant | None) -> dict[str, list[dict[str, str]]]:
    """Return what a variant's departure is made of, and every rule that was tested on it."""
    reasons: list[dict[str, str]] = []
    rules: list[dict[str, str]] = []
    for reason in explain(design, variant).parts if variant is not None else ():
        part = part_name(design.rulebook.trade.parts, reason.part)
        reasons += [
            {"part": part, "cost": f"+{departure_words(term.cost)}",
             "says": f"{term.what}: {term.says}", "source": term.source}
            for term in reason.terms
            if term.cost
        ]  # fmt: skip
        for one in reason.judgements:
            told = {"part": part, "says": one.rule.says, "source": one.rule.source}
            if one.finding.cost:
                reasons.append({**told, "cost": f"+{departure_words(one.finding.cost)}"})
            numbers = "; ".join(map(number_words, one.finding.numbers))
            rules.append({**told, "numbers": numbers[:1].upper() + numbers[1:]})
    return {"reasons": reasons, "rules": rules}
