"""Bucket elimination over the pair tables: the exact least cost of completing a partial fly.

The rules of a fly tie few parts together (hook, hackle, tail and wing; rib and body; thread and
head), so the graph of parts is nearly a tree. Eliminating parts along a min-fill order gives, for
each part, the few earlier parts (its *context*) on which the best completion depends; each context
is worked out when first asked for, and kept (R. Dechter, "Bucket elimination", 1999).

Candidates of a context part that have the same costs against everything below are one *class* there
(E. C. Freuder, "Eliminating interchangeable values", 1991), so that a context is a tuple of classes
and far fewer are ever asked for.
"""

from __future__ import annotations

from collections.abc import Sequence

from variants.search.network import FORBIDDEN, Network

#: A part's candidates in a context: (cost of the best completion below, candidate), best first.
Ranking = list[tuple[int, int]]


class Elimination:
    """Exact bounds along a fixed order of assignment.

    Attributes
    ----------
    order : list of int
        Parts in the order in which the search assigns them.
    context : list of tuple of int
        For each part, the earlier-assigned parts its best completion depends on.
    children : list of list of int
        For each part, the parts whose context it completes.
    roots : list of int
        Parts with an empty context.
    """

    def __init__(self, network: Network) -> None:
        self._network = network
        elimination, contexts = _min_fill(network)
        self.order = elimination[::-1]
        place = {part: at for at, part in enumerate(self.order)}
        count = len(network.parts)
        self.context = [
            tuple(sorted(contexts[part], key=place.__getitem__)) for part in range(count)
        ]
        self.children: list[list[int]] = [[] for _ in range(count)]
        self.roots: list[int] = []
        for part in self.order:
            if self.context[part]:
                self.children[self.context[part][-1]].append(part)
            else:
                self.roots.append(part)
        self._rankings: list[dict[tuple[int, ...], Ranking]] = [{} for _ in range(count)]
        self._neighbours = [
            [other for other in self.context[part] if (part, other) in network.tables]
            for part in range(count)
        ]
        self._set_classes(elimination)

    def _set_classes(self, elimination: Sequence[int]) -> None:
        """Number the classes of candidates, for each part's context and for its own subtree."""
        rows = {pair: _row_numbers(table) for pair, table in self._network.tables.items()}
        count = len(self._network.parts)
        subtree: list[list[int]] = [[] for _ in range(count)]
        for part in elimination:
            subtree[part] = [part, *(one for child in self.children[part] for one in subtree[child])]
        # For each part, one list of class numbers for each part of its context, in that order.
        self._context_classes = [
            [
                _classes(rows, other, subtree[part], len(self._network.domains[other]))
                for other in self.context[part]
            ]
            for part in range(count)
        ]
        self._own_classes = [
            _classes(rows, part, subtree[part][1:], len(self._network.domains[part]))
            for part in range(count)
        ]

    def ranking(self, part: int, assigned: Sequence[int]) -> Ranking:
        """Return a part's candidates with the exact least cost of them and all below, best first.

        Parameters
        ----------
        part : int
        assigned : sequence of int
            For each part its candidate's number; only the context's are looked at.

        Notes
        -----
        Recursive over children; each context is computed once. The cost counts the candidate
        itself, its pairs with the context, and the best of every part in the subtree below. Ties
        keep the stable order of the domain. Forbidden candidates are absent.
        """
        context = tuple(
            [
                classes[assigned[other]]
                for other, classes in zip(
                    self.context[part], self._context_classes[part], strict=True
                )
            ]
        )
        known = self._rankings[part].get(context)
        if known is None:
            known = self._rankings[part][context] = self._rank(part, assigned)
        return known

    def _rank(self, part: int, assigned: Sequence[int]) -> Ranking:
        totals = self._network.costs[part]
        for other in self._neighbours[part]:
            row = self._network.tables[other, part][assigned[other]]
            totals = [total + cost for total, cost in zip(totals, row, strict=True)]
        children, own_classes = self.children[part], self._own_classes[part]
        if not children:
            return sorted(
                (total, candidate)
                for candidate, total in enumerate(totals)
                if total < FORBIDDEN
            )
        ranking: Ranking = []
        scratch = list(assigned)
        below_of: dict[int, int] = {}
        for candidate, total in enumerate(totals):
            if total >= FORBIDDEN:
                continue
            below = below_of.get(own_classes[candidate])
            if below is None:
                scratch[part] = candidate
                below = below_of[own_classes[candidate]] = self._least_below(children, scratch)
            if below < FORBIDDEN:
                ranking.append((total + below, candidate))
        ranking.sort()
        return ranking

    def _least_below(self, children: Sequence[int], assigned: Sequence[int]) -> int:
        least = 0
        for child in children:
            ranking = self.ranking(child, assigned)
            if not ranking:
                return FORBIDDEN
            least += ranking[0][0]
        return least


def _row_numbers(table: Sequence[Sequence[int]]) -> list[int]:
    """Number the distinct rows of a table; equal rows have equal numbers."""
    numbers: dict[tuple[int, ...], int] = {}
    return [numbers.setdefault(tuple(row), len(numbers)) for row in table]


def _classes(
    rows: dict[tuple[int, int], list[int]], part: int, below: Sequence[int], count: int
) -> list[int]:
    """Number a part's candidates so that those alike to all parts below share a number."""
    columns = [rows[part, other] for other in below if (part, other) in rows]
    if not columns:
        return [0] * count
    numbers: dict[tuple[int, ...], int] = {}
    return [numbers.setdefault(seen, len(numbers)) for seen in zip(*columns, strict=True)]


def _min_fill(network: Network) -> tuple[list[int], list[set[int]]]:
    """Return an elimination order that adds few edges, and each part's neighbours when it goes.

    Greedy; ties go to the smaller resulting table, then to the part's number.
    """
    count = len(network.parts)
    neighbours: list[set[int]] = [set() for _ in range(count)]
    for one, other in network.tables:
        neighbours[one].add(other)
    sizes = [len(domain) for domain in network.domains]
    left, order = set(range(count)), []
    contexts: list[set[int]] = [set() for _ in range(count)]

    def price(part: int) -> tuple[int, int, int]:
        around = sorted(neighbours[part])
        fill = sum(
            other not in neighbours[one]
            for at, one in enumerate(around)
            for other in around[at + 1 :]
        )
        table = sizes[part]
        for other in around:
            table *= sizes[other]
        return fill, table, part

    while left:
        part = min(left, key=price)
        left.remove(part)
        order.append(part)
        contexts[part] = set(neighbours[part])
        for one in contexts[part]:
            neighbours[one] |= contexts[part] - {one}
            neighbours[one].discard(part)
    return order, contexts
