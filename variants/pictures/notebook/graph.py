"""A derivation that a notebook draws."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import networkx as nx

from variants.design import DesignProblem
from variants.explain.derivation import BASE, Descent, trace_descent
from variants.model import Variant
from variants.pictures.notebook.fly import our_layout

#: networkx brings no types of its own; whether stubs are there makes no difference so.
Graph: Any = nx.DiGraph


class Derivation(Graph):  # type: ignore[misc]
    """The graph that `variants.explain.derivation.derive` returns, able to show itself.

    Attributes
    ----------
    design : DesignProblem or None
        None in what networkx makes of it, such as a part of the graph.
    whole : Descent or None
    """

    design: DesignProblem | None = None
    whole: Descent | None = None

    def _repr_svg_(self) -> str | None:
        """Return the derivation with its flies, along the scale of departure."""
        if self.design is None or self.whole is None:
            return None
        from variants.pictures.charts import derivation_svg, fly_pictures

        pictures = fly_pictures(self.design, our_layout(), self.whole)
        return derivation_svg(self, BASE, pictures, self.design.request.base.name)


def derivation(design: DesignProblem, variants: Iterable[Variant]) -> Derivation:
    """Return the derivation of variants, able to show itself."""
    whole = trace_descent(design, variants)
    graph = Derivation(whole.graph)
    graph.design, graph.whole = design, whole
    return graph
