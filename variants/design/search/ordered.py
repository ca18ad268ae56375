"""What every search that hands out answers in order of weight has in common: where it ends."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator

from variants.design import Watch
from variants.design.search.members import Answer
from variants.design.search.network import Network


class OrderedSearch(ABC, Iterator[Answer]):
    """An iterator over the answers of a network, in order of weight.

    Parameters
    ----------
    network : Network
    distinct : bool
        Hand out each dressing once, at its least weight.
    watch : Watch, optional
    horizon : int, optional
        Thousandths; the search ends before the first answer that departs so far.

    Attributes
    ----------
    bound : int
        Thousandths; no answer still to come departs less.
    steps : int
        Entries taken off the heap so far.
    """

    def __init__(
        self,
        network: Network,
        *,
        distinct: bool = False,
        watch: Watch | None = None,
        horizon: int | None = None,
    ) -> None:
        self.network, self.distinct = network, distinct
        self.bound, self.steps = 0, 0
        self._watch = watch or Watch()
        self._end = network.never if horizon is None else horizon * network.unit
        self._last_step: int | None = None

    @property
    @abstractmethod
    def floor(self) -> int | None:
        """A weight that no answer still to come is below; None when there is none to come."""

    @property
    def still_open(self) -> int | None:
        """That weight as a departure in thousandths."""
        return None if self.floor is None else self.floor // self.network.unit

    def end_at(self, weight: int, steps: int | None = None) -> None:
        """End before the first answer of such a weight, or after so many steps more."""
        self._end = weight
        self._last_step = None if steps is None else self.steps + steps

    def look_beyond(self, steps: int) -> Iterator[Answer]:
        """Yield what comes after the horizon, for so many steps at most.

        These are answers, but others that are missing here may come before them.
        """
        self.end_at(self.network.never, steps)
        yield from self

    @abstractmethod
    def leftovers(self) -> Iterator[Answer]:
        """Yield answers soon, but in no order; for a search that was stopped."""
