"""The search over ever more candidates: as many as the answers need, proven to be enough.

Each round compiles the candidates within some slack of the least and searches up to the horizon:
below it no answer is missing, so what is found there is final. If that is not enough, the next
round has more slack. The order of answers depends on candidates' costs and keys alone, not on which
others are there, so a round first finds the answers of the round before, in the same order, and
they are passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from variants.design.search.different import EachChange
from variants.design.search.network import Network
from variants.design.search.ordered import OrderedSearch
from variants.design.search.pools import Pools
from variants.model import Candidate

Assignment = dict[str, Candidate]
Walk = OrderedSearch | EachChange
#: Thousandths within which candidates are looked at first, and how much wider each round is.
FIRST_SLACK, WIDER = 100, 2
#: How many answers are asked for when nobody says.
USUALLY_WANTED = 20
#: How many steps may go into finding out how much wider the next round has to be.
GUESSING_STEPS = 500


class Widening:
    """An iterator over the answers of a problem, in order.

    Parameters
    ----------
    pools : Pools
        The candidates and constraints.
    walk : callable
        Starts a search over a network up to a horizon.
    wanted : int
        How many answers will be asked for, as a hint.
    below : int, optional
        Thousandths; only answers that depart less are wanted.

    Attributes
    ----------
    departure : int
        Thousandths, of the last answer.
    """

    def __init__(
        self,
        pools: Pools,
        walk: Callable[[Network, int | None], Walk],
        wanted: int = USUALLY_WANTED,
        below: int | None = None,
    ) -> None:
        self._bound, self.departure = 0, 0
        self._pools = pools
        self._start = walk
        self._below = below
        self._slack: int | None = FIRST_SLACK
        self._walk: Walk | None = None
        self._network: Network | None = None
        self._horizon: int | None = None
        self._given, self._wanted = 0, wanted

    @property
    def bound(self) -> int:
        """Thousandths; no answer still to come departs less."""
        walked = self._walk.bound if self._walk is not None else 0
        return max(self._bound, walked if self._horizon is None else min(walked, self._horizon))

    @property
    def still_open(self) -> int | None:
        """A departure, in thousandths, that no answer still to come is below; None when none is."""
        inside = self._walk.still_open if self._walk is not None else 0
        open_ends = [end for end in (inside, self._horizon) if end is not None]
        return max(self.bound, min(open_ends)) if open_ends else None

    def __iter__(self) -> Iterator[Assignment]:
        """Yield the answers; `TimeUpError` may break in, and ends the iterator."""
        if self._below is not None:
            least = self._pools.look()
            if least is None or least >= self._below:
                return
            self._slack = min(FIRST_SLACK, self._below - least)
        while True:
            network, horizon = self._pools.network(self._slack)
            if self._below is not None:
                horizon = self._below if horizon is None else min(horizon, self._below)
            walk = self._start(network, horizon)
            self._walk, self._network, self._horizon = walk, network, horizon
            for place, (weight, chosen) in enumerate(walk):
                if place >= self._given:
                    self._given += 1
                    self.departure = weight // network.unit
                    yield as_assignment(network, chosen)
            if horizon is None or horizon == self._below:
                return
            self._bound = max(self._bound, horizon)
            self._slack = self._wider(walk, network)

    def _wider(self, walk: Walk, network: Network) -> int:
        """Return the slack of the next round.

        What the last answer that is wanted departs here, it departs at most when there are more
        candidates: a horizon just beyond it is enough. Until that many are found, slack grows
        by a fixed factor; it grows by no more than its square, lest a poor guess cost too much.
        """
        assert self._slack is not None  # without it nothing is left out
        wider = self._slack * WIDER
        missing = self._wanted - self._given
        if isinstance(walk, OrderedSearch) and missing > 0:
            beyond = list(islice(walk.look_beyond(GUESSING_STEPS), missing))
            if len(beyond) == missing:
                enough = beyond[-1][0] // network.unit + 1 - self._pools.least
                wider = min(max(enough, self._slack + 1), wider * WIDER)
        if self._below is not None:
            wider = min(wider, self._below - self._pools.least)
        return wider

    def leftovers(self) -> Iterator[Assignment]:
        """Yield what a search that was stopped can still finish soon, in no order."""
        if self._walk is not None and self._network is not None:
            for _weight, chosen in self._walk.leftovers():
                yield as_assignment(self._network, chosen)


def as_assignment(network: Network, chosen: Sequence[int]) -> Assignment:
    """Return candidates by part from candidates' numbers."""
    return {part: network.domains[index][chosen[index]] for index, part in enumerate(network.parts)}
