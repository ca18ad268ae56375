"""Bucket elimination, lazily: the exact least weight of completing a partial fly.

The rules of a fly tie few parts together (hook, hackle, tail and wing; rib and body; thread and
head), so the graph of parts is nearly a tree. Eliminating parts in a good order makes it one
(R. Dechter, "Bucket elimination", 1999): the best completion below a part depends only on the few
parts of its *context*, and of those only on what the judges below see of them, their *view*
(E. C. Freuder, "Eliminating interchangeable values", 1991). This module finds the order, contexts
and views; `variants.design.search.bounds` works out the completions.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from math import prod

from variants.design.search.judge import Judge
from variants.design.search.network import Network
from variants.design.search.stock import ContestedConstraint as Contested

#: Judges over more parts than pairs join the bound while no context grows beyond this.
WIDEST_CONTEXT = 3
FEW = 16


class Elimination:
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
    attached : list of list of (Judge, other parts)
        For each part, the judges that can speak once it is assigned.
    views : list of list of (part, view)
        For each part, the parts of its context and, for each of their classes, its view.
    rest : list of tuple of int
        For each depth, the parts but the next one whose contexts are assigned, and they are not.
    wide : list of Judge
        Judges that the bound leaves out.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        included, self.wide = _choose_judges(network)
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
        self.attached: list[list[tuple[Judge, tuple[int, ...]]]] = [[] for _ in network.parts]
        for judge in included:
            last = max(judge.scope, key=self.depth.__getitem__)
            others = tuple(part for part in judge.scope if part != last)
            self.attached[last].append((judge, others))
        self.views = [
            [
                (other, view_of(network, other, [j for j in included if below[part] & {*j.scope}]))
                for other in context[part]
            ]
            for part in range(len(network.parts))
        ]

        self.rest = [self._open_beside(depth) for depth in range(len(self.order))]

    def _open_beside(self, depth: int) -> tuple[int, ...]:
        assigned = set(self.order[:depth])
        started = {*self.roots, *(child for part in assigned for child in self.children[part])}
        return tuple(part for part in self.order[depth + 1 :] if part in started)


def view_of(network: Network, part: int, judges: Sequence[Judge]) -> list[int]:
    """Number a part's classes so that those which these judges see alike share a number."""
    columns = [judge.groups[part] for judge in judges if part in judge.groups]
    if not columns:
        return [0] * len(network.classes[part])
    numbers: dict[Hashable, int] = {}
    return [numbers.setdefault(seen, len(numbers)) for seen in zip(*columns, strict=True)]


def _choose_judges(network: Network) -> tuple[list[Judge], list[Judge]]:
    """Return the judges that the bound can see, and those that would make contexts too wide.

    Contested stock between three parts and more is always left out: it seldom bites.
    """
    plain = [judge for judge in network.judges if not isinstance(judge.constraint, Contested)]
    included = [judge for judge in plain if len(judge.scope) == 2]
    stock = [judge for judge in network.judges if isinstance(judge.constraint, Contested)]
    wide = [judge for judge in stock if len(judge.scope) > 2]
    more = [judge for judge in plain if len(judge.scope) > 2]
    more.sort(key=lambda judge: len(judge.scope))
    more += [judge for judge in stock if len(judge.scope) == 2]
    if len(network.parts) <= WIDEST_CONTEXT + 1:
        return included + more, wide
    widest = max(WIDEST_CONTEXT, _width(network, included))
    for judge in more:
        fits = _width(network, [*included, judge]) <= widest
        (included if fits else wide).append(judge)
    return included, wide


def _width(network: Network, judges: Sequence[Judge]) -> int:
    return max((len(context) for context in _order(network, judges)[1]), default=0)


def _order(network: Network, judges: Sequence[Judge]) -> tuple[list[int], list[list[int]]]:
    """Return the better of two greedy elimination orders, and each part's context in it.

    The one eliminates the part that adds the fewest edges, the other the one with the smallest
    context; better is the one whose tables would be smaller if they were filled.
    """
    sizes = [len(classes) for classes in network.classes]
    neighbours = [0] * len(sizes)
    for together in {sum([1 << part for part in judge.scope]) for judge in judges}:
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
        return sizes[part] <= FEW, first, second, -sizes[part], part

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
