"""How the variants descend from their dressing: a tree to walk, one substitution a step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.responses import Response

from variants.explain.wording import departure_words, part_name
from variants.web.answers import Answer
from variants.web.context import Context, get, see_other
from variants.web.document_response import document_response
from variants.web.pictures import describe, picture_link

if TYPE_CHECKING:
    import networkx as nx


@dataclass(frozen=True, slots=True)
class Step:
    """One part changed on the way to a dressing."""

    part: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Kin:
    """One dressing of the derivation with what descends from it.

    Attributes
    ----------
    is_again : bool
        Whether it stands elsewhere in the tree already, where what descends from it is shown.
    tied : str
        Why several parts change at once; empty where one does.
    """

    id: str
    label: str
    departs: str
    is_in_box: bool
    link: str
    picture: str
    alt: str
    steps: list[Step]
    tied: str
    is_again: bool
    children: list[Kin]


def derivation(context: Context) -> Response:
    """Show the derivation of a question's variants."""
    from variants.explain.derivation import BASE, derive

    question = context.question
    answer = context.answers.answer(question)
    graph = derive(answer.design, answer.variants)
    between = sum(node.startswith("s") for node in graph)
    return context.page(
        "derivation.html",
        dressing=answer.subject.dressing,
        has_variants=bool(answer.variants),
        variants=len(answer.variants),
        between=between,
        root=_kin(answer, graph, BASE, None, set()),
        design_link=question.link("/design"),
        walk_link=question.link("/derivation/drawing"),
    )


def _kin(
    answer: Answer, graph: nx.DiGraph[str], node: str, parent: str | None, seen: set[str]
) -> Kin:
    values: dict[str, Any] = graph.nodes[node]
    edge: dict[str, Any] = {} if parent is None else graph.edges[parent, node]
    is_again = node in seen
    seen.add(node)
    children = [] if is_again else list(graph.successors(node))
    rank = values["rank"]
    is_base = parent is None
    variant = answer.variant(rank) if rank and not is_base else None
    has_picture = is_base or variant is not None
    return Kin(
        node,
        values["label"].capitalize() if not is_base else values["label"],
        departure_words(values["departure"]),
        values["in_box"],
        answer.question.link("/variant", n=rank) if rank else "",
        picture_link(answer, rank if variant else None) if has_picture else "",
        describe(answer, variant) if has_picture else "",
        _steps(answer, edge),
        edge["reason"] if edge.get("linked") else "",
        is_again,
        [_kin(answer, graph, child, node, seen) for child in children],
    )


def _steps(answer: Answer, edge: dict[str, Any]) -> list[Step]:
    parts = answer.design.rulebook.trade.parts
    return [
        Step(part_name(parts, part), before, after)
        for part, before, after in zip(
            edge.get("parts", ()), edge.get("before", ()), edge.get("after", ()), strict=True
        )
    ]


def walk(context: Context) -> Response:
    """Show the derivation as a drawing to walk through, on a page of its own."""
    from variants.explain.derivation import BASE, trace_descent
    from variants.pictures.charts import fly_pictures
    from variants.web.documents import derivation_html

    answer = context.answers.answer(context.question)
    if not answer.variants:
        return see_other(context.question.link("/derivation"))
    whole = trace_descent(answer.design, answer.variants)
    pictures = fly_pictures(answer.design, answer.trade.layout, whole)
    html = derivation_html(answer.design, whole.graph, BASE, answer.variants, pictures)
    return document_response(html)


ROUTES = [
    get("/derivation", derivation, is_work=True),
    get("/derivation/drawing", walk, is_work=True),
]
