"""What may fill a part, made only as far as it is looked at: nearest to the dressing first.

A large box offers thousands of candidates for a part; all but the nearest few stand too far off to
matter. What a candidate departs by itself is known from its materials and colours before it is
made, so a domain holds *batches* and makes their candidates when somebody comes to them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from heapq import heapify, heappop, heappush
from itertools import count, takewhile
from operator import attrgetter
from typing import NamedTuple, overload

from variants.design.departure import is_same
from variants.design.watch import Watch
from variants.model import Candidate, Part


class CandidateBatch(NamedTuple):
    """Candidates of one departure, made when asked for.

    Attributes
    ----------
    cost : int
        Thousandths; that of every candidate in it.
    make : callable
        Makes the candidates, in any order; there may turn out to be none.
    """

    cost: int
    make: Callable[[], Sequence[Candidate]] = tuple


class LazyBatch(NamedTuple):
    """Batches that have not been worked out, with a lower bound of their costs.

    Attributes
    ----------
    cost : int
        Thousandths; no batch that it expands into is below.
    expand : callable
        Returns the batches, lazy ones among them. Comparing colours takes longer than all else, and
        most stuff is too far by its material.
    """

    cost: int
    expand: Callable[[], Iterable[AnyBatch]]


AnyBatch = CandidateBatch | LazyBatch


class Domain(Sequence[Candidate]):
    """The candidates of a part, in their stable order; all are made only when all are asked for.

    Parameters
    ----------
    batches : iterable of CandidateBatch or LazyBatch
    let_in : callable, optional
        Tells of each candidate, in the order of cost, whether it belongs here; by default all do.
    most : int, optional
        Thousandths; what costs more does not belong here either.

    Notes
    -----
    Batches wait in a heap by their costs, and a lazy one is expanded when it comes to the top: a
    batch of candidates that leaves the heap is the nearest of all that is left.
    """

    def __init__(
        self,
        batches: Iterable[AnyBatch],
        let_in: Callable[[Candidate], bool] | None = None,
        most: int | None = None,
    ) -> None:
        self._ticket = count()
        self._open = [(batch.cost, next(self._ticket), batch) for batch in batches]
        heapify(self._open)
        self._let_in, self._most = let_in, most
        self._batches: list[CandidateBatch] = []
        self._made: list[list[Candidate]] = []
        self._identities: set[str] = set()
        self._read = 0

    def cost(self, place: int, watch: Watch | None = None) -> int | None:
        """Return what the candidates of a batch cost, counted from the nearest; None beyond all.

        The watch may break in by `TimeUpError` while lazy batches are expanded.

        Examples
        --------
        >>> far = LazyBatch(10, lambda: [CandidateBatch(50), CandidateBatch(20)])
        >>> domain = Domain([CandidateBatch(40), far])
        >>> [domain.cost(place) for place in range(4)]
        [20, 40, 50, None]
        """
        while len(self._batches) <= place and self._open:
            if watch is not None:
                watch.look()
            batch = self._open[0][2]
            if self._most is not None and batch.cost > self._most:
                return None
            if isinstance(batch, CandidateBatch):
                self._batches.append(batch)
                heappop(self._open)
                continue
            # Expanded before it leaves the heap: whoever breaks in leaves a whole domain.
            expanded = list(batch.expand())
            heappop(self._open)
            for one in expanded:
                heappush(self._open, (one.cost, next(self._ticket), one))
        return self._batches[place].cost if place < len(self._batches) else None

    def made(self, place: int) -> Sequence[Candidate]:
        """Return the candidates of a batch; those of nearer ones are made as well.

        Raises
        ------
        IndexError
            When there are not so many batches.
        """
        self.cost(place)
        while len(self._made) <= place:
            candidates = list(self._batches[len(self._made)].make())
            if self._let_in is not None:
                candidates = [one for one in candidates if self._let_in(one)]
            self._made.append(candidates)
        return self._made[place]

    @property
    def made_so_far(self) -> int:
        """How many candidates have been made; all of them are seldom needed."""
        return sum(map(len, self._made))

    def holds(self, candidate: Candidate) -> bool:
        """Tell whether something here makes the same of the part, and departs no more by itself.

        Only what is as near as that is made.
        """
        while (cost := self.cost(self._read)) is not None and cost <= candidate.cost:
            self._identities.update(one.identity for one in self.made(self._read))
            self._read += 1
        return candidate.identity in self._identities

    def make_all(self, watch: Watch, most: int | None = None) -> bool:
        """Make every candidate, and tell that; or give up once there are more than so many.

        The watch may break in by `TimeUpError`.
        """
        made = 0
        for place in self._places(watch):
            made += len(self.made(place))
            if most is not None and made > most:
                return False
        return True

    @cached_property
    def _all(self) -> list[Candidate]:
        every = [one for place in self._places() for one in self.made(place)]
        return sorted(every, key=attrgetter("key"))

    def _places(self, watch: Watch | None = None) -> Iterator[int]:
        return takewhile(lambda place: self.cost(place, watch) is not None, count())

    def has_any(self, watch: Watch) -> bool:
        """Tell whether there is any candidate, unless the watch breaks in by `TimeUpError`."""
        return any(self.made(place) for place in self._places(watch))

    def __bool__(self) -> bool:
        return self.has_any(Watch())

    def __len__(self) -> int:
        return len(self._all)

    @overload
    def __getitem__(self, index: int) -> Candidate: ...
    @overload
    def __getitem__(self, index: slice) -> list[Candidate]: ...
    def __getitem__(self, index: int | slice) -> Candidate | list[Candidate]:
        return self._all[index]

    def __iter__(self) -> Iterator[Candidate]:
        return iter(self._all)


class DuplicateFilter:
    """Lets in each make of a part once, where its author allows it in several ways.

    What is as written in one way is no substitute in another, and what could stand for several of
    them counts as the one it departs least from.

    Parameters
    ----------
    ways : sequence of Part
    """

    def __init__(self, ways: Sequence[Part]) -> None:
        self._ways = ways
        self._seen: set[object] = set()

    def __call__(self, candidate: Candidate) -> bool:
        """Tell whether a candidate is of a make that has not come before."""
        if candidate.is_changed and any(self._is_way(candidate, way) for way in self._ways):
            return False
        items = sorted(item.id for items in candidate.items for item in items[:1])
        # A left and a right make a pair of one feather, or two of a mix.
        make = (tuple(items), len(candidate.ingredients), candidate.attributes.get("blend"))
        if make in self._seen:
            return False
        self._seen.add(make)
        return True

    @staticmethod
    def _is_way(candidate: Candidate, way: Part) -> bool:
        wanted, left = way.ingredients, list(candidate.ingredients)
        if len(wanted) != len(left):
            return False
        for one in wanted:
            same = next((other for other in left if is_same(one, other)), None)
            if same is None:
                return False
            left.remove(same)
        return True
