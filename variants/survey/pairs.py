"""The best pairs of purchases that work together, by branch and bound.

How each dressing stands with single purchases comes in, and for each two of them a departure that
the dressing can't be below with both; the pairs that do more together than one by one come out,
best first, each proven to be the next best.

Notes
-----
A pair ranks at best as if every dressing came as near as its bound. The pair that ranks first is
taken; if a dressing of it is still told by its bound alone, that dressing is solved with both, and
the pair ranks anew. Solving never improves a rank, so a pair that is first with all of its
dressings solved is the best of those left. A pair that even by its bounds does no more than its
two do one by one is dropped. (Best-first branch and bound: A. H. Land and A. G. Doig, "An automatic
method of solving discrete programming problems", Econometrica 28, 1960.)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush
from itertools import count

from variants.design.search import Closest
from variants.survey.gains import Gain, Prospect, gain_from, is_tieable
from variants.survey.offers import Offer

#: So many dressings are solved for pairs at most; beyond, what is left is not proven.
MOST_SOLVED = 2_000

Pair = tuple[Offer, Offer]
PairKey = tuple[tuple[str, ...], tuple[str, ...]]
#: For one dressing, what it can't depart less than with both of a pair; only pairs that may be
#: nearer than either of the two alone are told.
PairBounds = Mapping[PairKey, int]


@dataclass
class _Node:
    """A pair as far as it is worked out.

    Attributes
    ----------
    pair : Pair
    solved : dict of place to Closest
        Dressings that are nearer with the pair, as known for certain.
    bounds : dict of place to int
        Dressings not solved yet, and what they can't depart less than.
    """

    pair: Pair
    solved: dict[int, Closest]
    bounds: dict[int, int] = field(default_factory=dict)

    @property
    def price(self) -> float:
        """For the order of pairs that do the same."""
        prices = [one.price for one in self.pair]
        return float("inf") if None in prices else sum(one or 0.0 for one in prices)

    def departures(self) -> Iterator[tuple[int, int]]:
        """Yield each dressing's place with what it departs at least."""
        for place, closest in self.solved.items():
            if place not in self.bounds:
                yield place, closest.departure
        yield from self.bounds.items()


class PairSearch:
    """Branch and bound over pairs.

    Parameters
    ----------
    prospects : sequence of Prospect
        With single purchases, in the order of the book.
    lower_bounds : sequence of PairBounds
        In the same order.
    solve : callable
        Takes a place in the book and a pair; returns the closest variant with both, or None.
    at_most : int or None
        Thousandths: what departs more counts as not tieable.

    Attributes
    ----------
    is_proven : bool
        False once the limit of solving is reached.
    """

    def __init__(
        self,
        prospects: Sequence[Prospect],
        lower_bounds: Sequence[PairBounds],
        solve: Callable[[int, Pair], Closest | None],
        at_most: int | None,
    ) -> None:
        self._prospects, self._floors = prospects, lower_bounds
        self._solve, self._at_most = solve, at_most
        self._ticket = count()
        self._left = MOST_SOLVED
        self.is_proven = True

    def best(self, pairs: Iterable[Pair]) -> Iterator[Gain]:
        """Yield the pairs that work together, the best one first."""
        heap = [self._rank(branch) for pair in pairs if (branch := self._branch(pair))]
        heapify(heap)
        while heap:
            *_, branch = heappop(heap)
            if not branch.bounds:
                gain = gain_from(branch.pair, branch.solved, self._prospects, self._at_most)
                if gain is not None:
                    yield gain
                continue
            if not self._left:
                self.is_proven = False
                return
            self._left -= 1
            self._solve_one(branch)
            if self._may_work_together(branch):
                heappush(heap, self._rank(branch))

    def _branch(self, pair: Pair) -> _Node | None:
        """Return a pair with all that is known of it; None when it can't work together."""
        key = (pair[0].key, pair[1].key)
        bounds = {place: own[key] for place, own in enumerate(self._floors) if key in own}
        if not bounds:
            return None
        branch = _Node(pair, {}, bounds)
        for place, prospect in enumerate(self._prospects):
            alone = [
                closest
                for one in pair
                if (closest := prospect.with_bought.get((one.key,))) is not None
            ]
            if alone:
                branch.solved[place] = min(alone, key=lambda closest: closest.departure)
        return branch if self._may_work_together(branch) else None

    def _solve_one(self, branch: _Node) -> None:
        """Solve the dressing that the pair's rank leans on most."""
        place = max(branch.bounds, key=lambda place: (self._bound_departure(branch, place), -place))
        del branch.bounds[place]
        closest = self._solve(place, branch.pair)
        known = branch.solved.get(place)
        if closest is not None and (known is None or closest.departure < known.departure):
            branch.solved[place] = closest

    def _bound_departure(self, branch: _Node, place: int) -> int:
        known = branch.solved.get(place)
        before = self._prospects[place].departure if known is None else known.departure
        return before - branch.bounds[place]

    def _rank(self, branch: _Node) -> tuple[int, int, int, float, PairKey, int, _Node]:
        opened = written = saved = 0
        for place, after in branch.departures():
            before = self._prospects[place].departure
            opened += self._is_opened(place, after)
            written += after == 0 and before != 0
            saved += self._prospects[place].saved(after)
        key = (branch.pair[0].key, branch.pair[1].key)
        return -opened, -written, -saved, branch.price, key, next(self._ticket), branch

    def _is_opened(self, place: int, after: int) -> bool:
        before = self._prospects[place].departure
        return is_tieable(after, self._at_most) and not is_tieable(before, self._at_most)

    def _may_work_together(self, branch: _Node) -> bool:
        """Tell whether a pair may do more than its two do one by one."""
        more = 0
        for place, after in branch.departures():
            prospect = self._prospects[place]
            alone = [
                prospect.departure if closest is None else closest.departure
                for one in branch.pair
                for closest in (prospect.with_bought.get((one.key,)),)
            ]
            if self._is_opened(place, after) and not any(
                self._is_opened(place, one) for one in alone
            ):
                return True
            if after == 0 and prospect.departure and all(alone):
                return True
            more += prospect.saved(after) - sum(prospect.saved(one) for one in alone)
        return more > 0


def pairs_of(lower_bounds: Iterable[PairBounds], offers: Sequence[Offer]) -> list[Pair]:
    """Return the pairs that may bring some dressing nearer than either of the two alone."""
    known = {one.key: one for one in offers}
    keys = sorted({key for own in lower_bounds for key in own})
    return [(known[first], known[second]) for first, second in keys]
