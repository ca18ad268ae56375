"""A derivation that branches: from a base to common ancestors, and from these to what they lead to.

Comes in: branches, each from a dressing that is there already to a named one, with the design whose
rules judge the steps between. Goes out: one graph, dressings of the same stuff being one node,
whichever water their turns are for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import networkx as nx

from variants.design import DesignProblem
from variants.explain.derivation.graph import Descent, KnownDressing, add_node, add_steps, base_of
from variants.explain.derivation.steps import NodeKey, Pathfinder
from variants.model import Candidate


@dataclass(frozen=True, slots=True)
class Branch:
    """One way from a dressing to another.

    Attributes
    ----------
    design : DesignProblem
        Whose rules judge the dressings between.
    start, chosen : mapping of part to Candidate
        Both ends, as the design has them.
    known : Known
        What the end is called.
    """

    design: DesignProblem
    start: Mapping[str, Candidate]
    chosen: Mapping[str, Candidate]
    known: KnownDressing


def derive_branches(design: DesignProblem, branches: Sequence[Branch]) -> Descent:
    """Return the derivation that branches make.

    Parameters
    ----------
    design : DesignProblem
        Its base is the root.
    branches : sequence of Branch
        Each begins at the base or at the end of one before it.

    Notes
    -----
    Where two ends are made of the same stuff they are one node, under the name of the first.
    """
    graph: nx.DiGraph[str] = nx.DiGraph()
    names: dict[NodeKey, str] = {}
    root = Pathfinder(design)
    known = {root.key(one.chosen): one.known for one in reversed(branches)}
    known[root.key(design.base)] = base_of(design)
    base = add_node(graph, names, root, design.base, known)
    dressings: dict[str, Mapping[str, Candidate]] = {base: design.base}
    for branch in branches:
        finder = Pathfinder(replace(branch.design, base=branch.start), set(names))
        add_steps(graph, names, finder, branch.chosen, known, dressings)
    return Descent(graph, dressings)
