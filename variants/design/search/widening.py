"""The search over ever more candidates: as many as the solutions need, proven to be enough.

Each round compiles the candidates within some slack of the least and searches up to the horizon:
below it no solution is missing, so what is found there is final. If that is not enough, the next
round has more slack. The order of solutions depends on candidates' costs and keys alone, not on
which others are there, so a round first finds the solutions of the round before, in the same order,
and they are passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from variants.design.search.best_first import BestFirstSearch
from variants.design.search.change_sets import ChangeSetSearch
from variants.design.search.compiler import NetworkCompiler
from variants.design.search.network import Network
from variants.model import Candidate

Assignment = dict[str, Candidate]
Search = BestFirstSearch | ChangeSetSearch
#: Thousandths within which candidates are looked at first, and how much wider each round is.
FIRST_SLACK, WIDER = 100, 2
#: How many solutions are asked for when nobody says.
USUALLY_WANTED = 20
#: How many steps may go into finding out how much wider the next round has to be.
GUESSING_STEPS = 500


class WideningSearch:
    """An iterator over the solutions of a problem, in order.

    Parameters
    ----------
    compiler : NetworkCompiler
        The candidates and constraints.
    start : callable
        Starts a search over a network up to a horizon.
    wanted : int
        How many solutions will be asked for, as a hint.
    below : int, optional
        Thousandths; only solutions that depart less are wanted.

    Attributes
    ----------
    departure : int
        Thousandths, of the last solution.
    """

    def __init__(
        self,
        compiler: NetworkCompiler,
        start: Callable[[Network, int | None], Search],
        wanted: int = USUALLY_WANTED,
        below: int | None = None,
    ) -> None:
        self._bound, self.departure = 0, 0
        self._compiler = compiler
        self._start = start
        self._below = below
        self._slack: int | None = FIRST_SLACK
        self._search: Search | None = None
        self._network: Network | None = None
        self._horizon: int | None = None
        self._given, self._wanted = 0, wanted

    @property
    def bound(self) -> int:
        """Thousandths; no solution still to come departs less."""
        searched = self._search.bound if self._search is not None else 0
        return max(self._bound, searched if self._horizon is None else min(searched, self._horizon))

    @property
    def least_left(self) -> int | None:
        """A departure in thousandths that no solution still to come is below; None beyond all."""
        inside = self._search.least_left if self._search is not None else 0
        open_ends = [end for end in (inside, self._horizon) if end is not None]
        return max(self.bound, min(open_ends)) if open_ends else None

    def __iter__(self) -> Iterator[Assignment]:
        """Yield the solutions; `TimeUpError` may break in, and ends the iterator."""
        if self._below is not None:
            least = self._compiler.find_least()
            if least is None or least >= self._below:
                return
            self._slack = min(FIRST_SLACK, self._below - least)
        while True:
            network, horizon = self._compiler.compile_within(self._slack)
            if self._below is not None:
                horizon = self._below if horizon is None else min(horizon, self._below)
            search = self._start(network, horizon)
            self._search, self._network, self._horizon = search, network, horizon
            for place, (weight, chosen) in enumerate(search):
                if place >= self._given:
                    self._given += 1
                    self.departure = weight // network.unit
                    yield as_assignment(network, chosen)
            if horizon is None or horizon == self._below:
                return
            self._bound = max(self._bound, horizon)
            self._slack = self._find_slack(search, network)

    def _find_slack(self, search: Search, network: Network) -> int:
        """Return the slack of the next round.

        What the last solution that is wanted departs here, it departs at most when there are more
        candidates: a horizon just beyond it is enough. Until that many are found, slack grows
        by a fixed factor; it grows by no more than its square, lest a poor guess cost too much.
        """
        assert self._slack is not None  # without it nothing is left out
        wider = self._slack * WIDER
        missing = self._wanted - self._given
        if isinstance(search, BestFirstSearch) and missing > 0:
            beyond = list(islice(search.look_beyond(GUESSING_STEPS), missing))
            if len(beyond) == missing:
                enough = beyond[-1][0] // network.unit + 1 - self._compiler.least
                wider = min(max(enough, self._slack + 1), wider * WIDER)
        if self._below is not None:
            wider = min(wider, self._below - self._compiler.least)
        return wider

    def leftovers(self) -> Iterator[Assignment]:
        """Yield what a search that was stopped can still finish soon, in no order."""
        if self._search is not None and self._network is not None:
            for _weight, chosen in self._search.leftovers():
                yield as_assignment(self._network, chosen)


def as_assignment(network: Network, chosen: Sequence[int]) -> Assignment:
    """Return candidates by part from candidates' numbers."""
    return {part: network.domains[index][chosen[index]] for index, part in enumerate(network.parts)}
