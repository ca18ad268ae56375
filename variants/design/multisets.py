"""Every way to take one lot for each of several places, made nearest first when looked at.

Stuffs, what each costs in each place, and how a set of lots is made into a candidate come in; lazy
batches of candidates come out. What is taken is a *multiset* of stuffs: which of them stands in
which place is found by the cheapest assignment, so that eight colours wound together are one way to
wind them and not the 40 320 orders of naming them.

Notes
-----
Multisets are walked as a tree: at each stuff, nearest first, one more lot of it is taken, or one
goes on to the next. Of what is taken it is known what it costs in each set of places (at most 70
of them for eight places); what the other places cost at least comes from a table filled from the
last stuff to the first. Both are exact, and so is the bound of each branch: the least cost of all
multisets in it (R. Bellman, 1957, on assignments by dynamic programming over sets of places).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import combinations, product
from math import comb, prod
from typing import NamedTuple

from variants.design.domain import AnyBatch, CandidateBatch, LazyBatch
from variants.design.stock import Lot, Stuff
from variants.model import Candidate

#: Makes a candidate of lots, each in its place.
MakeCandidate = Callable[[Sequence[Lot]], Candidate]
#: Of some lots, those of one stuff: the stuff, how many of it, and from which of its lots on.
_Left = tuple[Stuff, int, int]
#: So many candidates of one multiset are made at once.
_AT_ONCE = 64


class _Branch(NamedTuple):
    """Some stuffs taken, and where to go on.

    Attributes
    ----------
    stuff : int
        The stuff to decide about next, by its place among them.
    taken : tuple of int
        The stuffs taken so far, in order; one as often as lots of it are taken.
    placed : dict of int to int
        What those cost in each set of places, told as bits, at least.
    """

    stuff: int
    taken: tuple[int, ...]
    placed: dict[int, int]


@dataclass(frozen=True)
class Multisets:
    """The ways to take one lot for each of several places.

    Attributes
    ----------
    stuffs : sequence of Stuff
    costs : sequence of sequence
        For each place and each stuff what it costs there, in thousandths; None where it may not.
    make : callable
    changed : sequence of sequence of bool, optional
        For each place and each stuff whether it is other than what is written there: of orders that
        cost the same, one as written comes first.
    with_any : collection of int, optional
        Asks only for ways that take any of these stuffs.
    extra : int
        Thousandths that every way costs besides.
    """

    stuffs: Sequence[Stuff]
    costs: Sequence[Sequence[int | None]]
    make: MakeCandidate
    changed: Sequence[Sequence[bool]] | None = None
    with_any: Collection[int] | None = None
    extra: int = 0

    def find_batches(self) -> Iterator[AnyBatch]:
        """Yield the lazy batch of all of them."""
        yield from self._lazy_batches(_Branch(0, (), {0: 0}))

    @cached_property
    def _order(self) -> list[int]:
        """The stuffs in the order they are decided about: those asked for first, then nearest."""
        nearest = {
            stuff: min(costs)
            for stuff in range(len(self.stuffs))
            if (costs := [cost for own in self.costs if (cost := own[stuff]) is not None])
        }
        asked = self.with_any or ()
        return sorted(nearest, key=lambda stuff: (stuff not in asked, nearest[stuff], stuff))

    @cached_property
    def _tables(self) -> list[list[list[int | None]]]:
        """For each stuff and each number of its lots, what open places cost at least.

        Places are open that are not in the set which tells the entry; they are filled with at most
        so many lots of the stuff, and with those after it.
        """
        sets = 1 << len(self.costs)
        beyond: list[int | None] = [None] * sets
        beyond[-1] = 0
        tables: list[list[list[int | None]]] = [[beyond]]
        for stuff in reversed(self._order):
            own = [tables[-1][-1]]
            for _ in range(min(len(self.stuffs[stuff].lots), len(self.costs))):
                own.append(self._with_one_more(own[-1], stuff))
            tables.append(own)
        return tables[::-1]

    def _with_one_more(self, table: list[int | None], stuff: int) -> list[int | None]:
        """Return a table for one more lot of a stuff."""
        more = list(table)
        for place, costs in enumerate(self.costs):
            cost, bit = costs[stuff], 1 << place
            if cost is None:
                continue
            for filled in range(len(table)):
                rest = None if filled & bit else table[filled | bit]
                known = more[filled]
                if rest is not None and (known is None or cost + rest < known):
                    more[filled] = cost + rest
        return more

    def _lazy_batches(self, branch: _Branch) -> Iterator[AnyBatch]:
        """Yield the lazy batch of what comes of a branch; nothing where nothing can."""
        if not branch.placed:
            return
        if len(branch.taken) == len(self.costs):
            cost = self.extra + branch.placed[(1 << len(self.costs)) - 1]
            left = [
                (self.stuffs[stuff], branch.taken.count(stuff), 0)
                for stuff in dict.fromkeys(branch.taken)
            ]
            yield LazyBatch(cost, partial(self._by_lots, cost, (), left))
            return
        tables = self._tables[branch.stuff]
        used = branch.taken.count(self._order[branch.stuff]) if len(tables) > 1 else 0
        table = tables[len(tables) - 1 - used]
        least = min(
            [
                cost + rest
                for filled, cost in branch.placed.items()
                if (rest := table[filled]) is not None
            ],
            default=None,
        )
        if least is not None:
            yield LazyBatch(self.extra + least, partial(self._go_on, branch))

    def _go_on(self, branch: _Branch) -> Iterator[AnyBatch]:
        """Yield the lazy batches of one more lot of a branch's stuff, and of the next stuff."""
        stuff = self._order[branch.stuff]
        if branch.taken.count(stuff) < len(self.stuffs[stuff].lots):
            taken = (*branch.taken, stuff)
            yield from self._lazy_batches(_Branch(branch.stuff, taken, self._placed(branch, stuff)))
        following = branch.stuff + 1
        if not branch.taken and self.with_any is not None and not self._is_asked(following):
            return  # none of what is asked for is taken, and none of it is left
        yield from self._lazy_batches(_Branch(following, branch.taken, branch.placed))

    def _is_asked(self, place: int) -> bool:
        return place < len(self._order) and self._order[place] in (self.with_any or ())

    def _placed(self, branch: _Branch, stuff: int) -> dict[int, int]:
        placed: dict[int, int] = {}
        for filled, known in branch.placed.items():
            for place, costs in enumerate(self.costs):
                cost, bit = costs[stuff], 1 << place
                if cost is None or filled & bit:
                    continue
                whole = known + cost
                if whole < placed.get(filled | bit, whole + 1):
                    placed[filled | bit] = whole
        return placed

    def _by_lots(
        self, cost: int, lots: tuple[Lot, ...], left: Sequence[_Left]
    ) -> Iterator[AnyBatch]:
        """Yield the batches of one multiset, a handful of sets of lots in each."""
        ways = prod(comb(len(stuff.lots) - first, many) for stuff, many, first in left)
        if ways <= _AT_ONCE:
            yield CandidateBatch(cost, partial(self._made, lots, left))
            return
        (stuff, many, first), *others = left
        for number in range(first, len(stuff.lots) - many + 1):
            rest = [(stuff, many - 1, number + 1), *others] if many > 1 else others
            chosen = (*lots, stuff.lots[number])
            yield LazyBatch(cost, partial(self._by_lots, cost, chosen, rest))

    def _made(self, lots: tuple[Lot, ...], left: Sequence[_Left]) -> list[Candidate]:
        choices = [combinations(stuff.lots[first:], many) for stuff, many, first in left]
        return [
            self.make(self._in_places([*lots, *(lot for own in several for lot in own)]))
            for several in product(*choices)
        ]

    def _in_places(self, lots: Sequence[Lot]) -> list[Lot]:
        """Return lots each in its place: as cheaply as can be.

        Of equals the ones with least that is changed come first, then those first by their keys.
        """
        lots = sorted(lots, key=lambda lot: lot.key)
        numbers = [self._numbers[lot.key[:2]] for lot in lots]
        weights = [[own[number] for number in numbers] for own in self._weights]
        last = (1 << len(lots)) - 1
        least: list[int | None] = [None] * last + [0]
        for taken in range(last - 1, -1, -1):
            own, best = weights[taken.bit_count()], None
            for at, weight in enumerate(own):
                if weight is None or taken >> at & 1:
                    continue
                rest = least[taken | 1 << at]
                if rest is not None and (best is None or weight + rest < best):
                    best = weight + rest
            least[taken] = best
        order: list[Lot] = []
        taken = 0
        for own in weights:
            for at, weight in enumerate(own):
                rest = None if taken >> at & 1 else least[taken | 1 << at]
                if weight is not None and rest is not None and weight + rest == least[taken]:
                    order.append(lots[at])
                    taken |= 1 << at
                    break
        return order

    @cached_property
    def _weights(self) -> list[list[int | None]]:
        """For each place and stuff its cost, and after it, in a few bits, whether it is changed."""
        places = range(len(self.costs))
        is_changed = self.changed or [[False] * len(self.stuffs) for _ in places]
        bits = len(self.costs).bit_length()
        return [
            [
                None if cost is None else (cost << bits) + changed
                for cost, changed in zip(self.costs[place], is_changed[place], strict=True)
            ]
            for place in places
        ]

    @cached_property
    def _numbers(self) -> dict[tuple[str, ...], int]:
        return {stuff.ingredient.key: number for number, stuff in enumerate(self.stuffs)}
