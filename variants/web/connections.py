"""Connections: how many may stand open, and how long one may take to say what it wants.

uvicorn waits for a request's head as long as the other side likes and takes any number of
connections; one machine could use up all that the system lends us. Here a connection that says
nothing is closed after a while, and where all places are taken the one that has waited longest
without a request gives way. So whoever sends a request at once always finds a place.
"""

from __future__ import annotations

import asyncio
from typing import Any, ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol

from variants.web.safety import is_loopback

#: So many connections stand open in all, and so many of one other machine.
MOST_OPEN, MOST_OF_PEER = 256, 64
#: Within this time the head of a request has to be there.
HEAD_S = 10.0


class LimitedProtocol(H11Protocol):
    """uvicorn's own protocol with limits on connections and on the time of a request's head.

    Attributes
    ----------
    most_open, most_of_peer : int
        This machine itself counts as no peer: a proxy of ours stands for many.
    head_s : float
    """

    most_open: ClassVar[int] = MOST_OPEN
    most_of_peer: ClassVar[int] = MOST_OF_PEER
    head_s: ClassVar[float] = HEAD_S

    def __init__(self, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self._waits_since = 0.0
        self._patience: asyncio.TimerHandle | None = None

    @property
    def is_waiting(self) -> bool:
        """Whether no request is being answered: the next one's head is still to come."""
        return self.cycle is None or self.cycle.response_complete

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take the connection, and close another or this one where there are too many."""
        super().connection_made(transport)
        self._wait()
        peer = self.client[0] if self.client else ""
        alike = [one for one in self._others() if one.client and one.client[0] == peer]
        if len(alike) >= self.most_of_peer and not is_loopback(peer):
            self._make_room(alike)
        elif len(self.connections) > self.most_open:
            self._make_room(self._others())

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        self._wait_no_more()
        super().connection_lost(exc)

    def on_response_complete(self) -> None:
        """Wait for the next request, once one is answered."""
        self._wait()
        super().on_response_complete()

    def _others(self) -> list[LimitedProtocol]:
        return [
            one for one in self.connections if isinstance(one, LimitedProtocol) and one is not self
        ]

    def _make_room(self, others: list[LimitedProtocol]) -> None:
        waiting = [one for one in others if one.is_waiting]
        min(waiting, key=lambda one: one._waits_since, default=self)._close()

    def _wait(self) -> None:
        self._wait_no_more()
        self._waits_since = self.loop.time()
        self._patience = self.loop.call_later(self.head_s, self._close_if_waiting)

    def _wait_no_more(self) -> None:
        if self._patience is not None:
            self._patience.cancel()
            self._patience = None

    def _close_if_waiting(self) -> None:
        if self.is_waiting:
            self._close()

    def _close(self) -> None:
        # At once out of the count: the transport tells of its end only at a later turn.
        self.connections.discard(self)
        self.transport.abort()
