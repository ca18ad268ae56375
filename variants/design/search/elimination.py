"""Bucket elimination, lazily: which parts the best completion of a partial fly depends on.

The rules of a fly tie few parts together (hook, hackle, tail and wing; rib and body; thread and
head), so the graph of parts is nearly a tree. Each constraint goes into the *bucket* of the last of
its parts to be assigned. Eliminating parts in a good order, the best completion below a part
depends only on the few parts of its *context* (R. Dechter, "Bucket elimination: a unifying
framework for reasoning", Artificial Intelligence 113, 1999, 41-85), and of those only on what the
constraints below see of them (E. C. Freuder, "Eliminating interchangeable values", 1991). This
module finds the order and the contexts; `variants.design.search.bounds` works out least weights.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from math import prod

from variants.design.search.contested_stock import ContestedConstraint
from variants.design.search.indexed_constraint import IndexedConstraint
from variants.design.search.network import Network

#: Constraints over more parts than pairs join the bound while no context grows beyond this.
WIDEST_CONTEXT = 3
#: Parts with so few classes are assigned first.
FEW_CLASSES = 16


class EliminationTree:
    """The order of assignment and what each part depends on.

    Attributes
    ----------
    network : Network
    order : list of int
        Parts in the order in which the search assigns them.
    children : list of tuple of int
        For each part, the parts whose context it completes.
    roots : tuple of int
        Parts with an empty context.
    size : list of int
        For each part, how many parts its subtree has, itself included.
    below : list of set of int
        For each part, the parts of its subtree.
    buckets : list of list of (IndexedConstraint, other parts)
        For each part, the constraints that it is the last part of to be assigned.
    contexts : list of list of (part, projections)
        For each part, the parts of its context and, for each of their classes, a number for what
        the constraints of the subtree see of it.
    open_beside : list of tuple of int
        For each depth, the parts but the next one whose contexts are assigned, and they are not.
    wide : list of IndexedConstraint
        Constraints that the lower bound leaves out.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        included, self.wide = _choose_constraints(network)
        elimination, contexts = _order(network, included)
        self.order = elimination[::-1]
        self.depth = {part: at for at, part in enumerate(self.order)}
        context = [tuple(sorted(parts, key=self.depth.__getitem__)) for parts in contexts]
        self.children = [
            tuple(child for child in self.order if context[child] and context[child][-1] == part)
            for part in range(len(network.parts))
        ]
        self.roots = tuple(part for part in self.order if not context[part])
        self.size = [1] * len(network.parts)
        below = [{part} for part in range(len(network.parts))]
        for part in elimination:
            for child in self.children[part]:
                self.size[part] += self.size[child]
                below[part] |= below[child]
        self.below = below
        self.buckets: list[list[tuple[IndexedConstraint, tuple[int, ...]]]] = [
            [] for _ in network.parts
        ]
        for one in included:
            last = max(one.scope, key=self.depth.__getitem__)
            others = tuple(part for part in one.scope if part != last)
            self.buckets[last].append((one, others))
        self.contexts = [
            [
                (
                    other,
                    number_projections(
                        network, other, [one for one in included if below[part] & {*one.scope}]
                    ),
                )
                for other in context[part]
            ]
            for part in range(len(network.parts))
        ]
        self.open_beside = [self._find_open(depth) for depth in range(len(self.order))]

    def _find_open(self, depth: int) -> tuple[int, ...]:
        assigned = set(self.order[:depth])
        started = {*self.roots, *(child for part in assigned for child in self.children[part])}
        return tuple(part for part in self.order[depth + 1 :] if part in started)


def number_projections(
    network: Network, part: int, constraints: Sequence[IndexedConstraint]
) -> list[int]:
    """Number a part's classes so that those which the constraints can't tell apart share one."""
    columns = [one.groups[part] for one in constraints if part in one.groups]
    if not columns:
        return [0] * len(network.classes[part])
    numbers: dict[Hashable, int] = {}
    return [numbers.setdefault(seen, len(numbers)) for seen in zip(*columns, strict=True)]


def _choose_constraints(
    network: Network,
) -> tuple[list[IndexedConstraint], list[IndexedConstraint]]:
    """Return the constraints in the lower bound, and those that would make contexts too wide.

    Contested stock between three parts and more is always left out: it seldom forbids anything.
    """
    plain, stock = list[IndexedConstraint](), list[IndexedConstraint]()
    for one in network.constraints:
        (stock if isinstance(one.constraint, ContestedConstraint) else plain).append(one)
    included = [one for one in plain if len(one.scope) == 2]
    wide = [one for one in stock if len(one.scope) > 2]
    more = sorted((one for one in plain if len(one.scope) > 2), key=lambda one: len(one.scope))
    more += [one for one in stock if len(one.scope) == 2]
    if len(network.parts) <= WIDEST_CONTEXT + 1:
        return included + more, wide
    widest = max(WIDEST_CONTEXT, _width(network, included))
    for one in more:
        fits = _width(network, [*included, one]) <= widest
        (included if fits else wide).append(one)
    return included, wide


def _width(network: Network, constraints: Sequence[IndexedConstraint]) -> int:
    """Return the parts of the widest context (the induced width)."""
    return max((len(context) for context in _order(network, constraints)[1]), default=0)


def _order(
    network: Network, constraints: Sequence[IndexedConstraint]
) -> tuple[list[int], list[list[int]]]:
    """Return the better of two greedy elimination orders, and each part's context in it.

    The one eliminates the part that adds the fewest edges (min-fill), the other the one with the
    smallest context (min-weight); better is the one whose tables would be smaller if filled.
    """
    sizes = [len(classes) for classes in network.classes]
    neighbours = [0] * len(sizes)
    for together in {sum([1 << part for part in one.scope]) for one in constraints}:
        for part in _bits(together):
            neighbours[part] |= together & ~(1 << part)
    return min(
        (_eliminate(sizes, neighbours.copy(), by_fill) for by_fill in (True, False)),
        key=lambda found: sum(
            [
                sizes[part] * prod([sizes[other] for other in context])
                for part, context in enumerate(found[1])
            ]
        ),
    )


def _eliminate(
    sizes: Sequence[int], neighbours: list[int], by_fill: bool
) -> tuple[list[int], list[list[int]]]:
    """Return an elimination order, and each part's neighbours when it goes.

    Greedy; ties go to the part with more classes, so that of parts that all depend on each other
    the one with fewest choices is assigned first. ``neighbours`` are sets of parts, as bits.
    """
    left, order = set(range(len(sizes))), []
    contexts: list[list[int]] = [[] for _ in sizes]

    def price(part: int) -> tuple[bool, int, int, int, int]:
        around = _bits(neighbours[part])
        # Each missing edge is counted from both its ends.
        fill = sum([(neighbours[part] & ~neighbours[one]).bit_count() - 1 for one in around]) // 2
        context = prod([sizes[other] for other in around])
        first, second = (fill, context * sizes[part]) if by_fill else (context, fill)
        return sizes[part] <= FEW_CLASSES, first, second, -sizes[part], part

    while left:
        part = min(left, key=price)
        left.remove(part)
        order.append(part)
        contexts[part] = _bits(neighbours[part])
        for one in contexts[part]:
            neighbours[one] |= neighbours[part]
            neighbours[one] &= ~(1 << one | 1 << part)
    return order, contexts


def _bits(mask: int) -> list[int]:
    """Return the numbers in a set of bits, least first."""
    found = []
    while mask:
        found.append((mask & -mask).bit_length() - 1)
        mask &= mask - 1
    return found
