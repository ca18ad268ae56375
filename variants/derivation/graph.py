"""The derivation: a networkx graph from the base to every variant, one substitution an edge.

Node attributes: ``label``, ``rank`` (of a variant, else None), ``departure`` (thousandths), and
``in_box`` (whether the box can tie it), ``parts`` (part to words). Edge attributes: ``parts``
(changed), ``label``, ``before`` and ``after`` (words), ``departure`` (of the step), ``rules`` (ids
of rules that tie a linked step), ``linked``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import networkx as nx

from variants.derivation.steps import NodeKey, Pathfinder, Step
from variants.model import Candidate, Variant
from variants.problem import DesignProblem

BASE = "base"


@dataclass(frozen=True)
class Descent:
    """A derivation with the dressings that its nodes stand for.

    Attributes
    ----------
    graph : networkx.DiGraph
    dressings : mapping of node to mapping of part to Candidate
    """

    graph: nx.DiGraph[str]
    dressings: Mapping[str, Mapping[str, Candidate]]


def derive(design: DesignProblem, variants: Iterable[Variant]) -> nx.DiGraph[str]:
    """Return the derivation of variants from the base of a design problem.

    Parameters
    ----------
    design : DesignProblem
    variants : iterable of Variant

    Returns
    -------
    networkx.DiGraph
        Node ``"base"`` is the dressing as written; ``"v1"``, ``"v2"`` … are the variants by rank;
        ``"s1"`` … are dressings in between. Every node is reached from the base.
    """
    return descent(design, variants).graph


def descent(design: DesignProblem, variants: Iterable[Variant]) -> Descent:
    """Return the derivation of variants, and what every dressing in it is made of."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    finder = Pathfinder(design)
    names: dict[NodeKey, str] = {}
    variants = tuple(variants)
    owner = {finder.key(variant.chosen): variant for variant in reversed(variants)}
    base = _add_node(graph, names, finder, design.base, owner)
    dressings: dict[str, Mapping[str, Candidate]] = {base: design.base}
    for variant in variants:
        for step in finder.steps(variant.chosen):
            before = names[finder.key(step.before)]
            after = _add_node(graph, names, finder, step.after, owner)
            dressings.setdefault(after, step.after)
            if not graph.has_edge(before, after):
                _add_edge(graph, finder, step, before, after)
    return Descent(graph, dressings)


def _add_node(
    graph: nx.DiGraph[str],
    names: dict[NodeKey, str],
    finder: Pathfinder,
    dressing: Mapping[str, Candidate],
    owner: Mapping[NodeKey, Variant],
) -> str:
    key = finder.key(dressing)
    if key in names:
        return names[key]
    variant = owner.get(key)
    if key == finder.key(finder.design.base):
        name, label = BASE, finder.design.request.base.name
    elif variant is not None:
        name, label = f"v{variant.rank}", f"variant {variant.rank}"
    else:
        between = sum(node.startswith("s") for node in graph) + 1
        name, label = f"s{between}", f"in between {between}"
    names[key] = name
    finder.known.add(key)
    graph.add_node(
        name,
        label=label,
        rank=variant.rank if variant else None,
        departure=variant.departure if variant else finder.departure(dressing),
        in_box=variant is not None or _is_in_box(finder.design, dressing),
        parts={part: candidate.words for part, candidate in dressing.items()},
    )
    return name


def _is_in_box(design: DesignProblem, dressing: Mapping[str, Candidate]) -> bool:
    return all(
        any(candidate.identity == other.identity for other in design.domains[part])
        for part, candidate in dressing.items()
    )


def _add_edge(
    graph: nx.DiGraph[str], finder: Pathfinder, step: Step, before: str, after: str
) -> None:
    changes = [
        f"{part}: {step.before[part].words} → {step.after[part].words}" for part in step.parts
    ]
    graph.add_edge(
        before,
        after,
        parts=list(step.parts),
        label="; ".join(changes),
        before=[step.before[part].words for part in step.parts],
        after=[step.after[part].words for part in step.parts],
        departure=graph.nodes[after]["departure"] - graph.nodes[before]["departure"],
        linked=len(step.parts) > 1,
        rules=[rule.id for rule in step.tied_by],
        reason="; ".join(rule.says for rule in step.tied_by),
    )
