"""Compiles a problem into networks of as many candidates as the search needs, nearest first.

A box of a hundred thousand items offers thousands of candidates for each part, of which all but the
nearest few cost more than the best variants. A network is compiled of those that cost less than the
least plus some slack; from what is left out follows a *horizon*, a departure below which nothing is
missing. Constraints over one part are asked on the way.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from variants.design import (
    CandidateBatch,
    ChangesConstraint,
    Domain,
    FlyConstraint,
    StockConstraint,
    Watch,
)
from variants.design.search.contested_stock import DemandCache, split_stock
from variants.design.search.indexed_constraint import Verdicts
from variants.design.search.interchangeable import (
    CandidateRow,
    Partition,
    Partitioner,
    UnaryFilter,
)
from variants.design.search.network import Network, assemble_network
from variants.model import Candidate

#: So many partitions of a part's candidates are kept, for further networks of the same ones.
_MOST_PARTITIONS = 16


def compile_network(
    domains: Mapping[str, Sequence[Candidate]], constraints: Sequence[FlyConstraint]
) -> Network:
    """Return the network of a whole problem, all candidates in it.

    Parameters
    ----------
    domains : mapping of part to candidates
        In any order; the candidates' keys decide.
    constraints : sequence of FlyConstraint

    Notes
    -----
    Linear in the number of candidates. Constraints over one part are asked once for each distinct
    projection; the others not before the search asks.
    """
    return NetworkCompiler.of(domains, constraints).compile_within(None)[0]


class FilteredDomain:
    """The candidates of one part that constraints over it alone allow, nearest first.

    Parameters
    ----------
    part : str
    domain : sequence of Candidate
    unary : sequence of FlyConstraint
        Over one part, this or another.
    joint : sequence of FlyConstraint
        Over two parts and more, of this part or not, that every network has.
    watch : Watch, optional

    Attributes
    ----------
    allowed : list of CandidateRow
        Of the candidates looked at so far.
    least : int
        The least cost among them, in thousandths.
    """

    def __init__(
        self,
        part: str,
        domain: Sequence[Candidate],
        unary: Sequence[FlyConstraint],
        joint: Sequence[FlyConstraint],
        watch: Watch | None = None,
    ) -> None:
        self.part, self._watch = part, watch or Watch()
        self.allowed: list[CandidateRow] = []
        self.least = 0
        if not isinstance(domain, Domain):
            domain = Domain([CandidateBatch(one.cost, partial(tuple, [one])) for one in domain])
        self._domain, self._next = domain, 0
        own = [one for one in unary if part in one.parts]
        self._filter, self._partitioner = UnaryFilter(part, own), Partitioner(part, joint)
        #: What each allowed candidate costs by itself.
        self._own: list[int] = []
        #: Partitions of the first so many.
        self._partitions: dict[int, Partition] = {}

    @property
    def beyond(self) -> int | None:
        """A cost that no candidate not yet looked at is below; None when all have been."""
        return self._domain.cost(self._next, self._watch)

    def look_within(self, slack: int | None) -> None:
        """Look at every candidate that costs less than the least plus some slack, or at all.

        Raises
        ------
        TimeUpError
            When the watch says so.
        """
        while (cost := self.beyond) is not None:
            if slack is not None and self.allowed and cost >= self.least + slack:
                break
            for candidate in self._domain.made(self._next):
                self._watch.look()
                added = self._filter.added_cost(candidate)
                if added is not None:
                    whole = cost + added
                    self.least = min(self.least, whole) if self.allowed else whole
                    self.allowed.append(self._partitioner.read(candidate, whole))
                    self._own.append(cost)
            self._next += 1

    def count_within(self, slack: int | None) -> tuple[int, int | None]:
        """Return how many allowed ones are within some slack, and a cost that no other is below.

        A domain that was looked at farther by another search holds more of them.
        """
        self.look_within(slack)
        if slack is None:
            return len(self.allowed), None
        count = bisect_left(self._own, self.least + slack)
        return count, self._own[count] if count < len(self._own) else self.beyond

    def partition(self, count: int, stock: Sequence[FlyConstraint]) -> Partition:
        """Return the first allowed ones in classes, as far as stock over the part alone allows."""
        if any(self.part in one.parts for one in stock):
            alone = [one for one in stock if one.parts == (self.part,)]
            rows = [
                one
                for one in self.allowed[:count]
                if all(limit.allows([one.candidate]) for limit in alone)
            ]
            return self._partitioner.partition(rows, [one for one in stock if one not in alone])
        if count not in self._partitions:
            if len(self._partitions) == _MOST_PARTITIONS:
                self._partitions.clear()
            self._partitions[count] = self._partitioner.partition(self.allowed[:count], ())
        return self._partitions[count]


@dataclass(frozen=True)
class NetworkCompiler:
    """One problem, its candidates looked at only as far as networks of it need them.

    Attributes
    ----------
    domains : tuple of FilteredDomain
        One for each part, in the order of the dressing.
    unary, joint, stock : sequence of FlyConstraint
        Those over one part; over two and more; and those of stock, over however many.
    at_most_changed : int
        How many parts may differ.
    verdicts : mapping of FlyConstraint to dict
        What constraints over two parts and more have said, for the next network.
    demands : DemandCache
    watch : Watch or None
        Is asked whether to go on, as candidates are looked at.
    """

    domains: tuple[FilteredDomain, ...]
    unary: Sequence[FlyConstraint]
    joint: Sequence[FlyConstraint]
    stock: Sequence[StockConstraint]
    at_most_changed: int
    verdicts: Mapping[FlyConstraint, Verdicts]
    demands: DemandCache
    watch: Watch | None

    @classmethod
    def of(
        cls,
        domains: Mapping[str, Sequence[Candidate]],
        constraints: Sequence[FlyConstraint],
        watch: Watch | None = None,
    ) -> NetworkCompiler:
        """Return the compiler of a problem, from its domains by part and its constraints."""
        at_most_changed, given = _split_off_limit(tuple(domains), constraints)
        stock = [one for one in given if isinstance(one, StockConstraint)]
        others = [one for one in given if not isinstance(one, StockConstraint)]
        unary = [one for one in others if len(one.parts) == 1]
        joint = [one for one in others if len(one.parts) > 1]
        filtered = tuple(
            FilteredDomain(part, domain, unary, joint, watch) for part, domain in domains.items()
        )
        verdicts: dict[FlyConstraint, Verdicts] = {one: {} for one in joint}
        return cls(filtered, unary, joint, stock, at_most_changed, verdicts, DemandCache(), watch)

    def with_domains(
        self, filled: Mapping[str, Sequence[Candidate]], without: Collection[str] = ()
    ) -> NetworkCompiler:
        """Return the same problem with some parts filled otherwise, or left out of account.

        What has been read of the other parts is shared. With a part that is left out go all
        constraints that look at it.
        """
        domains = tuple(
            FilteredDomain(own.part, filled[own.part], self.unary, self.joint, self.watch)
            if own.part in filled
            else own
            for own in self.domains
            if own.part not in without
        )
        return replace(
            self,
            domains=domains,
            stock=[one for one in self.stock if not set(without) & set(one.parts)],
            at_most_changed=len(domains) if without else self.at_most_changed,
        )

    @property
    def least(self) -> int:
        """What candidates that have been looked at cost at least, one of each part, together."""
        return sum([own.least for own in self.domains])

    def find_least(self) -> int | None:
        """Return a departure that no choice is below; None when some part has no candidate."""
        for own in self.domains:
            own.look_within(0)
        return self.least if all(own.allowed for own in self.domains) else None

    def compile_within(self, slack: int | None) -> tuple[Network, int | None]:
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
        within = [(own, *own.count_within(slack)) for own in self.domains]
        horizon: int | None = None
        if all(own.allowed for own in self.domains):
            horizon = min(
                (
                    self.least - own.least + beyond
                    for own, _, beyond in within
                    if beyond is not None
                ),
                default=None,
            )
        near = {
            own.part: [one.candidate for one in own.allowed[:count]] for own, count, _ in within
        }
        stock = [one for whole in self.stock for one in split_stock(whole, near, self.demands)]
        joint = [*self.joint, *(one for one in stock if len(one.parts) > 1)]
        partitions = [own.partition(count, stock) for own, count, _ in within]
        network = assemble_network(
            tuple(near), partitions, joint, self.at_most_changed, self.verdicts
        )
        return network, horizon


def _split_off_limit(
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
