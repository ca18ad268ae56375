"""Who may stop the work on a problem, and who hears of it: the time limit and the reporter."""

from __future__ import annotations

from time import monotonic
from typing import Protocol

#: The clock is read once in so many looks, and the reporter hears once in so many steps.
_EVERY, _EVERY_STEPS = 32, 1024
#: Once the time has passed, so much of it again, but at most so many seconds, may go into
#: finishing variants that were begun.
_GRACE_SHARE, _GRACE_S = 0.1, 0.25


class Reporter(Protocol):
    """Hears what a search does; progress bars, traces and tests are reporters.

    Called from within the search, so it should be quick. Whatever it raises ends the search.
    """

    def found(self, rank: int, departure: int) -> None:
        """Hear that a variant is proven: its place in the order, and its departure."""

    def rising(self, bound: int, steps: int) -> None:
        """Hear, now and then, that nothing below a departure is left, after so many steps."""


class TimeUpError(Exception):
    """The time limit has passed, as `Watch.look` tells."""


class Watch:
    """A time limit, and the ear of a reporter.

    Parameters
    ----------
    within_s : float, optional
        Seconds from now; without it the work may go on for ever.
    reporter : Reporter, optional

    Raises
    ------
    ValueError
        When the time is not positive.

    Notes
    -----
    Counts from when it is made: a command makes it before it reads anything, so that a problem is
    built, and searched, in the time that its user gave to the whole.
    """

    def __init__(self, within_s: float | None = None, reporter: Reporter | None = None) -> None:
        if within_s is not None and not within_s > 0:
            raise ValueError("a time limit is more than nothing")
        self._within_s = within_s
        self._until = None if within_s is None else monotonic() + within_s
        self._reporter = reporter
        self._looks = 0

    @property
    def is_over(self) -> bool:
        """Whether the time is up."""
        return self._until is not None and monotonic() >= self._until

    def look(self) -> None:
        """Raise `TimeUpError` when the time is up; cheap enough to be called in inner loops."""
        self._looks += 1
        if self._looks % _EVERY == 0:
            self.check()

    def check(self) -> None:
        """Raise `TimeUpError` when the time is up, by the clock each time."""
        if self.is_over:
            raise TimeUpError

    def hear(self, bound: int, steps: int) -> None:
        """Pass on, now and then, how far the search has come."""
        if self._reporter is not None and steps % _EVERY_STEPS == 0:
            self._reporter.rising(bound, steps)

    def found(self, rank: int, departure: int) -> None:
        """Pass on that a variant is proven."""
        if self._reporter is not None:
            self._reporter.found(rank, departure)

    def grant_grace(self) -> None:
        """Set the limit to a moment from now, for finishing what was begun."""
        share = _GRACE_S if self._within_s is None else _GRACE_SHARE * self._within_s
        self._until = monotonic() + min(_GRACE_S, share)
