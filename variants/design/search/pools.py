"""The candidates of a problem, nearest first, and networks of as many of them as the search needs.

A box of a hundred thousand items offers thousands of candidates for each part, of which all but the
nearest few cost more than the best variants. A network is compiled of those that cost less than the
least plus some slack; from what is left out follows a *horizon*, a departure below which nothing is
missing. Constraints over one part are judged on the way.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Mapping, Sequence
from copy import copy
from dataclasses import replace
from functools import partial
from operator import itemgetter

from variants.design import (
    ChangesConstraint,
    Domain,
    FlyConstraint,
    Offer,
    StockConstraint,
    Watch,
)
from variants.design.search.classes import LoneJudge, Reading, Readings, Sorted
from variants.design.search.network import Network, assemble
from variants.design.search.stock import Stock, stock_constraints
from variants.design.search.witness import Verdicts
from variants.model import Candidate


def compile_network(
    domains: Mapping[str, Sequence[Candidate]],
    constraints: Sequence[tuple[FlyConstraint, Sequence[str]]],
) -> Network:
    """Return the network of a whole problem as python-constraint hands it to a solver.

    Parameters
    ----------
    domains : mapping of part to candidates
        In any order; the candidates' keys decide.
    constraints : sequence of (constraint, parts)

    Notes
    -----
    Linear in the number of candidates. Constraints over one part are judged once for each distinct
    projection; the others not before the search asks.
    """
    return Pools(domains, [constraint for constraint, _ in constraints]).network(None)[0]


#: So many ways of sorting a part's candidates are kept, for further networks of the same ones.
_MOST_SORTED = 16


class Pool:
    """The candidates of one part, nearest first.

    Attributes
    ----------
    part : str
    survivors : list of Reading
        Of those looked at so far that constraints over the part alone allow.
    least : int
        The least cost among them.
    """

    def __init__(
        self,
        part: str,
        domain: Sequence[Candidate],
        unary: Sequence[FlyConstraint],
        lasting: Sequence[FlyConstraint],
        watch: Watch | None = None,
    ) -> None:
        self.part, self._watch = part, watch or Watch()
        self.readings = Readings(part, lasting)
        self.survivors: list[Reading] = []
        self.least = 0
        if not isinstance(domain, Domain):
            domain = Domain([Offer(one.cost, partial(tuple, [one])) for one in domain])
        self._domain, self._next = domain, 0
        self._judge = LoneJudge(part, unary)
        #: What each survivor costs by itself, and how the first so many are sorted into classes.
        self._own: list[int] = []
        self._sorted: dict[int, Sorted] = {}

    @property
    def beyond(self) -> int | None:
        """A cost that no candidate not yet looked at is below; None when all have been."""
        return self._domain.cost(self._next, self._watch)

    def look_within(self, slack: int | None) -> None:
        """Look at every candidate that costs less than the least plus some slack, or at all."""
        while (cost := self.beyond) is not None:
            if slack is not None and self.survivors and cost >= self.least + slack:
                break
            for candidate in self._domain.made(self._next):
                self._watch.look()
                extra = self._judge.verdict(candidate)
                if extra is not None:
                    self.least = min(self.least, cost + extra) if self.survivors else cost + extra
                    self.survivors.append(self.readings.read(candidate, cost + extra))
                    self._own.append(cost)
            self._next += 1

    def within(self, slack: int | None) -> tuple[int, int | None]:
        """Return how many survivors are within some slack, and a cost that no other is below.

        A pool that was looked at farther by another search holds more of them.
        """
        self.look_within(slack)
        if slack is None:
            return len(self.survivors), None
        count = bisect_left(self._own, self.least + slack)
        return count, self._own[count] if count < len(self._own) else self.beyond

    def sort_into_classes(self, count: int, passing: Sequence[FlyConstraint]) -> Sorted:
        """Class the first survivors, as far as passing constraints over the part alone allow."""
        joint = [one for one in passing if len(one.parts) > 1]
        lone = [one for one in passing if one.parts == (self.part,)]
        if any(self.part in one.parts for one in passing):
            survivors = [
                one
                for one in self.survivors[:count]
                if all(limit.allows([one.candidate]) for limit in lone)
            ]
            return self.readings.sort_into_classes(survivors, joint)
        if count not in self._sorted:
            if len(self._sorted) == _MOST_SORTED:
                self._sorted.clear()
            self._sorted[count] = self.readings.sort_into_classes(self.survivors[:count], ())
        found = self._sorted[count]
        # What passes looks at other parts alone; to it all candidates of this one are alike.
        return replace(found, glimpses=[*found.glimpses, *[itemgetter(0)] * len(joint)])


class Pools:
    """The candidates of all parts, nearest first, looked at only as far as the search needs.

    Parameters
    ----------
    domains : mapping of part to candidates
    constraints : sequence of FlyConstraint
    watch : Watch, optional
        Is asked whether to go on, as candidates are looked at.
    """

    def __init__(
        self,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[FlyConstraint],
        watch: Watch | None = None,
    ) -> None:
        self._parts, self._watch = tuple(domains), watch
        self._at_most, given = _changes_apart(self._parts, constraints)
        stock = [one for one in given if isinstance(one, StockConstraint)]
        # Stock over one part is judged with the rest of the stock.
        self._unary = [one for one in given if len(one.parts) == 1 and one not in stock]
        self._lasting = [one for one in given if len(one.parts) > 1 and one not in stock]
        self._limits, self._stock = stock, Stock()
        #: What constraints have said, for the next network.
        self._known: dict[FlyConstraint, Verdicts] = {one: {} for one in self._lasting}
        self._pools = [self._pool(part, domains[part]) for part in self._parts]

    def _pool(self, part: str, domain: Sequence[Candidate]) -> Pool:
        unary = [one for one in self._unary if part in one.parts]
        return Pool(part, domain, unary, self._lasting, self._watch)

    def refilled(
        self, filled: Mapping[str, Sequence[Candidate]], without: Collection[str] = ()
    ) -> Pools:
        """Return the same problem with some parts filled otherwise, or left out of account.

        What has been read of the other parts is shared. With a part that is left out go all
        constraints that look at it.
        """
        other = copy(self)
        other._parts = tuple(part for part in self._parts if part not in without)
        other._limits = [one for one in self._limits if not set(without) & set(one.parts)]
        if without:
            other._at_most = len(other._parts)
        other._pools = [
            self._pool(pool.part, filled[pool.part]) if pool.part in filled else pool
            for pool in self._pools
            if pool.part not in without
        ]
        return other

    @property
    def least(self) -> int:
        """A departure that no choice is below, by the candidates looked at so far."""
        return sum(pool.least for pool in self._pools)

    def look(self) -> int | None:
        """Return a departure that no choice is below; None when some part has no candidate."""
        for pool in self._pools:
            pool.look_within(0)
        return self.least if all(pool.survivors for pool in self._pools) else None

    def network(self, slack: int | None) -> tuple[Network, int | None]:
        """Return the network of the candidates that cost less than the least plus some slack.

        Parameters
        ----------
        slack : int or None
            Thousandths; None for all candidates.

        Returns
        -------
        Network
        int or None
            The horizon: every choice with a candidate that is left out departs at least so far.
            None when none is left out.

        Notes
        -----
        Such a choice costs, in the part of that candidate, at least what the nearest one left out
        costs, and in every other part at least the least; costs of constraints are never negative.
        """
        within = [pool.within(slack) for pool in self._pools]
        horizon: int | None = None
        if all(pool.survivors for pool in self._pools):
            least = self.least
            horizon = min(
                (
                    least - pool.least + beyond
                    for pool, (_, beyond) in zip(self._pools, within, strict=True)
                    if beyond is not None
                ),
                default=None,
            )
        near = {
            pool.part: [one.candidate for one in pool.survivors[:count]]
            for pool, (count, _) in zip(self._pools, within, strict=True)
        }
        passing = [
            one for limit in self._limits for one in stock_constraints(limit, near, self._stock)
        ]
        joint = [*self._lasting, *(one for one in passing if len(one.parts) > 1)]
        found = [
            pool.sort_into_classes(count, passing)
            for pool, (count, _) in zip(self._pools, within, strict=True)
        ]
        return assemble(self._parts, found, joint, self._at_most, self._known), horizon


def _changes_apart(
    parts: tuple[str, ...], constraints: Sequence[FlyConstraint]
) -> tuple[int, list[FlyConstraint]]:
    """Return how many parts may differ, and the constraints that don't count them all."""
    at_most, others = len(parts), []
    for constraint in constraints:
        if isinstance(constraint, ChangesConstraint) and set(constraint.parts) == set(parts):
            at_most = min(at_most, constraint.at_most)
        else:
            others.append(constraint)
    return at_most, others
