"""Points of a Pareto front, and the region of costs that they dominate."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from variants.design.search.stages import Option
from variants.model import Candidate

#: Weighings of the first and the second cost, from the one to the other.
SLOPES = ((16, 1), (8, 1), (4, 1), (2, 1), (1, 1), (1, 2), (1, 4), (1, 8), (1, 16))


@dataclass(frozen=True, slots=True)
class ParetoPoint:
    """One solution on a front.

    Attributes
    ----------
    first, second : int
        Thousandths.
    chosen : mapping of part to Candidate
    """

    first: int
    second: int
    chosen: Mapping[str, Candidate]


@dataclass(frozen=True, slots=True)
class LeastCosts:
    """What something costs at least: first, second, and weighed by each slope.

    Weighed it may cost more than its two least costs weighed, which seldom come together.
    """

    first: int
    second: int
    weighed: tuple[int, ...]

    @classmethod
    def of(cls, options: Iterable[Option]) -> LeastCosts:
        """Return the least of some options."""
        costs = [(one[0], one[1]) for one in options]
        return cls(
            min(first for first, _ in costs),
            min(second for _, second in costs),
            tuple([min([a * x + b * y for x, y in costs]) for a, b in SLOPES]),
        )

    @classmethod
    def sum(cls, several: Iterable[LeastCosts]) -> LeastCosts:
        """Return what several cost at least together."""
        whole = LeastCosts(0, 0, (0,) * len(SLOPES))
        for one in several:
            whole = whole.plus(one)
        return whole

    def plus(self, other: LeastCosts) -> LeastCosts:
        """Return what two cost at least together."""
        return LeastCosts(
            self.first + other.first,
            self.second + other.second,
            tuple([a + b for a, b in zip(self.weighed, other.weighed, strict=True)]),
        )

    def with_option(self, instead_of: LeastCosts, option: Option) -> LeastCosts:
        """Return what all cost at least when one part takes an option instead of its least."""
        first, second, _ = option
        return LeastCosts(
            self.first - instead_of.first + first,
            self.second - instead_of.second + second,
            tuple(
                [
                    whole - own + a * first + b * second
                    for whole, own, (a, b) in zip(
                        self.weighed, instead_of.weighed, SLOPES, strict=True
                    )
                ]
            ),
        )


class DominatedRegion:
    """The costs at which nothing is left to be found, beside solutions that are known.

    Parameters
    ----------
    known : sequence of ParetoPoint
        A front.
    within : int
        Thousandths; the first cost may not be above this.
    """

    def __init__(self, known: Sequence[ParetoPoint], within: int) -> None:
        self._within = within
        self._firsts = [point.first for point in known]
        self._seconds = [point.second for point in known]
        # Between two neighbours of the front there is room below the first one's second cost and
        # before the second one's first cost: the corner of that room, by each slope.
        ends = [*(first - 1 for first in self._firsts[1:]), within] if known else []
        self._corners = [
            tuple([a * end + b * (height - 1) for a, b in SLOPES])
            for end, height in zip(ends, self._seconds, strict=True)
        ]

    def dominates(self, least: LeastCosts) -> bool:
        """Tell whether nothing that costs at least so much is worth finding.

        It is not when known solutions are as good in both costs, wherever within its bounds it is.
        """
        if least.first > self._within:
            return True
        start = bisect_right(self._firsts, least.first) - 1
        if start < 0:
            return False
        seconds, corners, weighed = self._seconds, self._corners, least.weighed
        for place in range(start, len(seconds)):
            if seconds[place] <= least.second:
                return True
            for bound, end in zip(weighed, corners[place], strict=True):
                if bound > end:
                    break
            else:
                return False
        return True


def find_front(points: Iterable[ParetoPoint]) -> list[ParetoPoint]:
    """Return the points that no other is better than in both costs, or as good as and earlier."""
    kept: list[ParetoPoint] = []
    for point in sorted(points, key=lambda one: (one.first, one.second, _keys(one))):
        if not kept or point.second < kept[-1].second:
            kept.append(point)
    return kept


def _keys(point: ParetoPoint) -> tuple[tuple[str, ...], ...]:
    return tuple(candidate.key for candidate in point.chosen.values())
