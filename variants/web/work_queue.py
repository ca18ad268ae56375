"""A bounded queue for work: so many requests are worked on together, the others wait their turn.

Searches and drawings have places of their own, so that style, script and pages that only show
something are there at once however many questions are waiting.
"""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus
from typing import TypeVar

from anyio import CapacityLimiter, fail_after
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request

from variants.web.errors import RequestError

Given = TypeVar("Given")
#: So many are worked on together: Python does one at a time, more only make each slower.
AT_ONCE = 3
#: A question that has waited so long for its turn is turned away.
WAIT_S = 10.0


class WorkQueue:
    """Runs work in threads, a few at a time.

    Parameters
    ----------
    at_once : int
    wait_s : float
    """

    def __init__(self, at_once: int = AT_ONCE, wait_s: float = WAIT_S) -> None:
        self._places, self._wait_s = CapacityLimiter(at_once), wait_s

    async def run(self, request: Request, work: Callable[[], Given]) -> Given:
        """Return what the work gives, done in a thread once it is its turn.

        Raises
        ------
        RequestError
            When its turn did not come in time.
        ClientDisconnect
            When by then nobody waits for it any more.
        """
        try:
            with fail_after(self._wait_s):
                await self._places.acquire()
        except TimeoutError:
            raise RequestError(
                HTTPStatus.SERVICE_UNAVAILABLE,
                "Busy: many ask at this moment.",
                "Load the page again in a moment. Nothing was written.",
            ) from None
        try:
            if await request.is_disconnected():
                raise ClientDisconnect
            return await run_in_threadpool(work)
        finally:
            self._places.release()
