"""Bucket elimination over the pair tables: the exact least cost of completing a partial fly.

The rules of a fly tie few parts together (hook, hackle, tail and wing; rib and body; thread and
head), so the graph of parts is nearly a tree. Eliminating parts along a min-fill order gives, for
each part, the few earlier parts (its *context*) on which the best completion depends; each context
is worked out when first asked for, and kept (R. Dechter, "Bucket elimination", 1999).
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
        self.context = [
            tuple(sorted(contexts[part], key=place.__getitem__))
            for part in range(len(network.parts))
        ]
        self.children: list[list[int]] = [[] for _ in network.parts]
        self.roots: list[int] = []
        for part in self.order:
            if self.context[part]:
                self.children[self.context[part][-1]].append(part)
            else:
                self.roots.append(part)
        self._rankings: list[dict[tuple[int, ...], Ranking]] = [{} for _ in network.parts]
        self._neighbours = [
            [other for other in self.context[part] if (part, other) in network.tables]
            for part in range(len(network.parts))
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
        context = tuple(assigned[other] for other in self.context[part])
        known = self._rankings[part].get(context)
        if known is not None:
            return known
        network = self._network
        totals = list(network.costs[part])
        for other in self._neighbours[part]:
            row = network.tables[other, part][assigned[other]]
            totals = [total + cost for total, cost in zip(totals, row, strict=True)]
        children = self.children[part]
        ranking: Ranking = []
        scratch = list(assigned)
        for candidate, total in enumerate(totals):
            if total >= FORBIDDEN:
                continue
            scratch[part] = candidate
            for child in children:
                below = self.ranking(child, scratch)
                if not below:
                    break
                total += below[0][0]
            else:
                ranking.append((total, candidate))
        ranking.sort()
        self._rankings[part][context] = ranking
        return ranking


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
