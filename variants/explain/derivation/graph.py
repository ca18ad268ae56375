"""The derivation: a networkx graph from the base to every variant, one substitution an edge.

Node attributes: ``label``, ``rank`` (of a variant, else None), ``departure`` (thousandths), and
``in_box`` (whether the box can tie it), ``parts`` (part to words). Edge attributes: ``parts``
(changed), ``label``, ``before`` and ``after`` (words), ``departure`` (of the step), ``rules`` (ids
of rules that tie a linked step), ``linked``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import networkx as nx

from variants.design import DesignProblem, Domain
from variants.explain.derivation.steps import DerivationStep, NodeKey, Pathfinder
from variants.model import Candidate, Variant

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
    return trace_descent(design, variants).graph


def trace_descent(design: DesignProblem, variants: Iterable[Variant]) -> Descent:
    """Return the derivation of variants, and what every dressing in it is made of."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    finder = Pathfinder(design)
    names: dict[NodeKey, str] = {}
    variants = tuple(variants)
    known = {
        finder.key(one.chosen): KnownDressing(
            f"v{one.rank}", f"variant {one.rank}", one.rank, one.departure
        )
        for one in reversed(variants)
    }
    known[finder.key(design.base)] = base_of(design)
    base = add_node(graph, names, finder, design.base, known)
    dressings: dict[str, Mapping[str, Candidate]] = {base: design.base}
    for variant in variants:
        add_steps(graph, names, finder, variant.chosen, known, dressings)
    return Descent(graph, dressings)


@dataclass(frozen=True, slots=True)
class KnownDressing:
    """A dressing of a derivation that has a name of its own: the base, or a variant.

    Attributes
    ----------
    name, label : str
        Of its node.
    rank : int or None
    departure : int
        Thousandths.
    in_box : bool or None
        Whether the box can tie it; None to find out.
    """

    name: str
    label: str
    rank: int | None
    departure: int
    in_box: bool | None = True


def _variant(one: Variant) -> KnownDressing:
    return KnownDressing(f"v{one.rank}", f"variant {one.rank}", one.rank, one.departure)


def base_of(design: DesignProblem) -> KnownDressing:
    """Return the dressing as written."""
    return KnownDressing(BASE, design.request.base.name, None, 0, None)


def add_steps(
    graph: nx.DiGraph[str],
    names: dict[NodeKey, str],
    finder: Pathfinder,
    chosen: Mapping[str, Candidate],
    known: Mapping[NodeKey, KnownDressing],
    dressings: dict[str, Mapping[str, Candidate]],
) -> None:
    """Add the steps from the finder's base, which the graph has, to a dressing."""
    for step in finder.steps(chosen):
        before = names[finder.key(step.before)]
        after = add_node(graph, names, finder, step.after, known)
        dressings.setdefault(after, step.after)
        if not graph.has_edge(before, after):
            _add_edge(graph, finder, step, before, after)


def add_node(
    graph: nx.DiGraph[str],
    names: dict[NodeKey, str],
    finder: Pathfinder,
    dressing: Mapping[str, Candidate],
    known: Mapping[NodeKey, KnownDressing],
) -> str:
    """Add a dressing, unless the graph has it, and return the name of its node."""
    key = finder.key(dressing)
    if key in names:
        return names[key]
    own = known.get(key)
    if own is None:
        between = sum(node.startswith("s") for node in graph) + 1
        departure = finder.departure(dressing)
        own = KnownDressing(f"s{between}", f"in between {between}", None, departure, None)
    names[key] = own.name
    finder.known.add(key)
    graph.add_node(
        own.name,
        label=own.label,
        rank=own.rank,
        departure=own.departure,
        in_box=_is_in_box(finder.design, dressing) if own.in_box is None else own.in_box,
        parts={part: candidate.words for part, candidate in dressing.items()},
    )
    return own.name


def _is_in_box(design: DesignProblem, dressing: Mapping[str, Candidate]) -> bool:
    return all(_is_held(design.domains[part], one) for part, one in dressing.items())


def _is_held(domain: Sequence[Candidate], candidate: Candidate) -> bool:
    if isinstance(domain, Domain):
        return domain.holds(candidate)
    return any(candidate.identity == other.identity for other in domain)


def _add_edge(
    graph: nx.DiGraph[str], finder: Pathfinder, step: DerivationStep, before: str, after: str
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
