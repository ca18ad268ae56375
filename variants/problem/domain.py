"""What may fill a part, made only as far as it is looked at: nearest to the dressing first.

A large box offers thousands of candidates for a part; all but the nearest few stand too far off to
matter. What a candidate departs by itself is known from its materials and colours before it is
made, so a domain holds *offers* and makes their candidates when somebody comes to them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter
from typing import overload

from variants.model import Candidate


@dataclass(frozen=True, slots=True)
class Offer:
    """Candidates of one departure.

    Attributes
    ----------
    cost : int
        Thousandths; that of every candidate in it.
    make : callable
        Makes them, in any order; there may turn out to be none.
    """

    cost: int
    make: Callable[[], Sequence[Candidate]]


class Domain(Sequence[Candidate]):
    """The candidates of a part, in their stable order; all are made only when all are asked for.

    Parameters
    ----------
    offers : iterable of Offer
    as_written : bool
        Whether only candidates that fill the part as written are let in.
    """

    def __init__(self, offers: Iterable[Offer], as_written: bool = False) -> None:
        self._offers = sorted(offers, key=attrgetter("cost"))
        self._as_written = as_written
        self._made: list[list[Candidate]] = []

    @property
    def costs(self) -> list[int]:
        """What the candidates of each offer cost, nearest first."""
        return [offer.cost for offer in self._offers]

    def made(self, place: int) -> Sequence[Candidate]:
        """Return the candidates of an offer; those of nearer ones are made as well.

        Examples
        --------
        >>> domain = Domain([Offer(40, lambda: ()), Offer(10, lambda: ())])
        >>> domain.costs, domain.made(0)
        ([10, 40], [])
        """
        while len(self._made) <= place:
            candidates = list(self._offers[len(self._made)].make())
            if self._as_written:
                candidates = [one for one in candidates if not one.is_changed]
            self._made.append(candidates)
        return self._made[place]

    @cached_property
    def _all(self) -> list[Candidate]:
        every = [one for place in range(len(self._offers)) for one in self.made(place)]
        return sorted(every, key=attrgetter("key"))

    def __bool__(self) -> bool:
        return any(self.made(place) for place in range(len(self._offers)))

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
