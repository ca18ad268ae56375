"""How the nodes of the search are expanded: the step that every way of searching is made of.

A node covers solutions: an `OpenNode` those of all classes of the next part not yet tried after a
partial assignment, a `PartialAssignment` those of one class of it, a `SolutionClass` those of a
complete choice of classes. Its f never exceeds the weight of any solution it covers:
`ContextBounds` is exact over all constraints but the wide ones, and a wide one is counted as far as
the assigned parts alone foretell, which only grows. Children are made one at a time, cheapest first
(T. Yoshizumi, T. Miura and T. Ishida, "A* with partial expansion for large branching factor
problems", AAAI 2000, 923-929).
"""

from __future__ import annotations

from collections.abc import Iterator

from variants.design.search.bounds import AddedCosts, ContextBounds, added_weight
from variants.design.search.enumeration import Solution, enumerate_members
from variants.design.search.lookahead import next_projections, open_projections, wide_constraints


class OpenNode:
    """The classes of the next part after a partial assignment, as far as not yet tried.

    Attributes
    ----------
    depth : int
        How many parts are assigned.
    weight : int
        Of the assigned parts, with all that constraints added.
    foreseen : int
        What wide constraints will add at least.
    chosen : list of int
        For each part its class, or -1.
    budget : int
        How many of the open parts may differ.
    mask : int
        Classes not yet tried, as bits.
    added : list of AddedCosts or None
        What constraints add to them; None until it is opened.
    base : int
        With a class's own weight added, a bound of what comes of it and of all dearer ones.
    least : dict
        The least weight met of classes that differ in nothing else.
    """

    __slots__ = (
        "added",
        "base",
        "budget",
        "chosen",
        "depth",
        "foreseen",
        "least",
        "mask",
        "weight",
    )

    def __init__(
        self, depth: int, weight: int, foreseen: int, chosen: list[int], budget: int
    ) -> None:
        self.depth, self.weight, self.foreseen = depth, weight, foreseen
        self.chosen, self.budget = chosen, budget
        self.mask, self.base = 0, 0
        self.added: list[AddedCosts] | None = None
        self.least: dict[tuple[int, bool, int], int] = {}


class PartialAssignment:
    """A class tried at an open node: the weight with it, and the least weight of the rest."""

    __slots__ = ("node", "one", "rest", "weight")

    def __init__(self, node: OpenNode, one: int, weight: int, rest: int) -> None:
        self.node, self.one, self.weight, self.rest = node, one, weight, rest

    @property
    def f(self) -> int:
        """A lower bound of all that it covers."""
        return self.node.foreseen + self.weight + self.rest


class SolutionClass:
    """The choices of candidates that a complete choice of classes stands for, lightest first."""

    __slots__ = ("made", "next", "rest")

    def __init__(
        self, made: tuple[int, ...], following: Solution, rest: Iterator[Solution]
    ) -> None:
        self.made, self.next, self.rest = made, following, rest


Node = OpenNode | PartialAssignment | SolutionClass


class Expansion:
    """Opens nodes of one network, tries their classes and extends partial assignments.

    Parameters
    ----------
    bounds : ContextBounds
    distinct : bool
        Whether each dressing is wanted once only, at its least weight.
    """

    def __init__(self, bounds: ContextBounds, distinct: bool) -> None:
        self.bounds, self.network, self.tree = bounds, bounds.network, bounds.tree
        self.distinct = distinct
        depths = range(len(self.network.parts))
        self._wide = [wide_constraints(self.tree, depth) for depth in depths]
        self._open = [open_projections(self.tree, depth) for depth in depths if distinct]
        self._next = [next_projections(self.tree, depth) for depth in depths if distinct]

    def root(self) -> tuple[int, OpenNode] | None:
        """Return the node that covers every solution with its f; None when there is none."""
        count = len(self.network.parts)
        static = self.bounds.static_sum(self.tree.roots)
        budget = min(self.network.at_most_changed, count)
        if static[min(budget, len(static) - 1)] >= self.network.never:
            return None
        chosen = [-1] * count
        least = self.bounds.least_sum(self.tree.roots, chosen, budget, self.network.never)
        if least >= self.network.never:
            return None
        return least, OpenNode(0, 0, 0, chosen, budget)

    def open(self, node: OpenNode) -> None:
        """Find the classes that may follow, and what is to be added to them."""
        depth, chosen = node.depth, node.chosen
        part, beside = self.tree.order[depth], self.tree.open_beside[depth]
        node.mask, node.added = self.bounds.open_classes(part, chosen, node.budget)
        below = self.bounds.static_below[part]
        node.base = node.weight + node.foreseen + below[min(node.budget, len(below) - 1)]
        node.base += self.bounds.least_sum(beside, chosen, node.budget, self.network.never)

    def lower_bound(self, node: OpenNode) -> int | None:
        """Return a bound of what an open node still covers; None when that is nothing."""
        mask = node.mask
        if not mask:
            return None
        cheapest = (mask & -mask).bit_length() - 1
        bound = node.base + self.network.costs[self.tree.order[node.depth]][cheapest]
        return bound if bound < self.network.never else None

    def try_next(self, node: OpenNode) -> PartialAssignment | None:
        """Try the cheapest class not yet tried; None when nothing new can come of it."""
        self.bounds.watch.look()
        bit = node.mask & -node.mask
        part = self.tree.order[node.depth]
        is_changed = bool(self.network.changed[part] & bit)
        tried = self._try(node, part, bit.bit_length() - 1, is_changed)
        # Not before it is tried: where the watch breaks in, the class still belongs to the node.
        node.mask ^= bit
        return tried

    def _try(
        self, node: OpenNode, part: int, one: int, is_changed: bool
    ) -> PartialAssignment | None:
        never, depth = self.network.never, node.depth
        assert node.added is not None
        weight = node.weight + self.network.costs[part][one]
        weight += added_weight(node.added, part, one)
        if weight >= never:
            return None
        alike = (0, False, 0)
        if self.distinct:
            alike = self.network.makes[part][one], is_changed, self._next[depth][one]
            if node.least.get(alike, never) <= weight:
                return None
        node.chosen[part] = one
        opened = (*self.tree.children[part], *self.tree.open_beside[depth])
        rest = self.bounds.least_sum(opened, node.chosen, node.budget - is_changed, never)
        if self.distinct:
            node.least[alike] = weight
        return None if rest >= never else PartialAssignment(node, one, weight, rest)

    def extend(self, partial: PartialAssignment) -> tuple[int, OpenNode | SolutionClass] | None:
        """Return the node after a partial assignment, with its f, once wide constraints are asked.

        None when there is none.
        """
        node, network = partial.node, self.network
        depth, part = node.depth, self.tree.order[node.depth]
        chosen = node.chosen.copy()
        chosen[part] = partial.one
        weight, foreseen = partial.weight, 0
        for constraint, parts in self._wide[depth]:
            groups = tuple([constraint.groups[one][chosen[one]] for one in parts])
            if len(parts) == len(constraint.scope):
                weight += constraint.cost(groups)
            else:
                foreseen += constraint.lower_bound(parts, groups)
        f = weight + foreseen + partial.rest
        if f >= network.never:
            return None
        if depth + 1 < len(chosen):
            left = node.budget - (network.changed[part] >> partial.one & 1)
            return f, OpenNode(depth + 1, weight, foreseen, chosen, left)
        members = enumerate_members(network, chosen, weight)
        first = next(members)
        made = self._made_of(chosen, len(chosen))
        return weight, SolutionClass(made, first, iter(()) if self.distinct else members)

    def state(self, node: OpenNode) -> tuple[object, ...]:
        """Return all that completions of a node depend on, and what it made of its parts."""
        seen = tuple([numbers[node.chosen[part]] for part, numbers in self._open[node.depth]])
        return (node.budget, self._made_of(node.chosen, node.depth), seen)

    def complete(self, node: Node) -> Iterator[tuple[Solution, tuple[int, ...]]]:
        """Yield all solutions that a node covers, depth first and in no order of weight.

        Each comes with what it makes of the parts.
        """
        if isinstance(node, SolutionClass):
            yield node.next, node.made
            yield from ((one, node.made) for one in node.rest)
            return
        if isinstance(node, PartialAssignment):
            extended = self.extend(node)
            if extended is not None:
                yield from self.complete(extended[1])
            return
        if node.added is None:
            self.open(node)
        while self.lower_bound(node) is not None:
            partial = self.try_next(node)
            if partial is not None:
                yield from self.complete(partial)

    def depth_of(self, node: Node) -> int:
        """Return how many parts a node has assigned."""
        if isinstance(node, OpenNode):
            return node.depth
        return node.node.depth if isinstance(node, PartialAssignment) else len(self.network.parts)

    def _made_of(self, chosen: list[int], depth: int) -> tuple[int, ...]:
        makes = self.network.makes
        return tuple([makes[part][chosen[part]] for part in self.tree.order[:depth]])
